import { markFirstScripts, startPagesAfterPaint } from './scripts/first-scripts.mjs';

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
  compiler: {
    runAfterProductionCompile: async ({ distDir }) => {
      await markFirstScripts(distDir);
      await startPagesAfterPaint(distDir);
    },
  },
  // The solver's loader asks for this where it finds itself in Node; in a browser it never gets there.
  turbopack: { resolveAlias: { 'node:module': { browser: './src/lib/not-in-browser.ts' } } },
  // The container image takes the traced files alone; everywhere else `next start` serves the build in place.
  ...(process.env.NEXT_OUTPUT === 'standalone' ? { output: 'standalone' } : {}),
};

export default config;
