import { readdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';

/** To a browser that knows it: compile every function of this script while it arrives, beside the page, not each when it is called. */
const COMPILE_NOW = '//# allFunctionsCalledOnLoad\n';

/**
 * Marks the scripts that come with a page: compiled one function after the other as they are called, they hold up a page on a phone for
 * as long as all the rest of its start. What comes later is left as it is: much of it is never called.
 * @param {{ distDir: string }} build
 */
async function markFirstScripts({ distDir }) {
  const pages = path.join(distDir, 'server/app');
  const entries = await readdir(pages, { recursive: true });
  const manifests = entries
    .filter((file) => file.endsWith('_client-reference-manifest.js'))
    .map((file) => path.join(pages, file));
  const texts = await Promise.all(
    [path.join(distDir, 'build-manifest.json'), ...manifests].map((file) => readFile(file, 'utf8')),
  );
  const scripts = new Set(texts.flatMap((text) => text.match(/static\/chunks\/[\w.~-]+\.js/g) ?? []));
  for (const script of scripts) {
    const file = path.join(distDir, script);
    const text = await readFile(file, 'utf8');
    if (!text.startsWith(COMPILE_NOW)) await writeFile(file, COMPILE_NOW + text);
  }
}

/** @type {import('next').NextConfig} */
const config = {
  poweredByHeader: false,
  reactStrictMode: true,
  // The front door compresses; doing it twice only costs time.
  compress: false,
  // Whoever starts the product waits for its build; types are checked with those of everything else.
  typescript: { ignoreBuildErrors: true },
  // A browser that asks before it has read the page's own link is led to the same icon.
  redirects: () => [{ source: '/favicon.ico', destination: '/icon.svg', permanent: true }],
  compiler: { runAfterProductionCompile: markFirstScripts },
  // The solver's loader asks for this where it finds itself in Node; in a browser it never gets there.
  turbopack: { resolveAlias: { 'node:module': { browser: './src/lib/not-in-browser.ts' } } },
  // The container image takes the traced files alone; everywhere else `next start` serves the build in place.
  ...(process.env.NEXT_OUTPUT === 'standalone' ? { output: 'standalone' } : {}),
};

export default config;
