import { createHash } from 'node:crypto';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';

/** To a browser that knows it: compile every function of this script while it arrives, beside the page, not each when it is called. */
const COMPILE_NOW = '//# allFunctionsCalledOnLoad\n';

/** The part of a page's list in which it says what it is made of, as the build left it. */
const LISTED = /^(.*__RSC_MANIFEST\["[^"]+"\] = )(\{.*\});?\s*$/s;

/**
 * The lists of what each page is made of.
 * @param {string} distDir
 */
async function findPageLists(distDir) {
  const pages = path.join(distDir, 'server/app');
  const entries = await readdir(pages, { recursive: true });
  return entries.filter((file) => file.endsWith('_client-reference-manifest.js')).map((file) => path.join(pages, file));
}

/**
 * Marks the scripts that come with a page: compiled one function after the other as they are called, they hold up a page on a phone for
 * as long as all the rest of its start. What comes later is left as it is: much of it is never called.
 * @param {string} distDir
 */
export async function markFirstScripts(distDir) {
  const lists = [path.join(distDir, 'build-manifest.json'), ...(await findPageLists(distDir))];
  const texts = await Promise.all(lists.map((file) => readFile(file, 'utf8')));
  const scripts = new Set(texts.flatMap((text) => text.match(/static\/chunks\/[\w.~-]+\.js/g) ?? []));
  for (const script of scripts) {
    const file = path.join(distDir, script);
    const text = await readFile(file, 'utf8');
    if (!text.startsWith(COMPILE_NOW)) await writeFile(file, COMPILE_NOW + text);
  }
}

/**
 * Runs in the page, where nothing else of this file is.
 * @param {readonly string[]} ofEveryPage
 */
function startAfterPaint(ofEveryPage) {
  let isStarted = false;
  const start = () => {
    if (isStarted) return;
    isStarted = true;
    // What the server says of the page beside what it has drawn names the scripts of its parts.
    const pieces = /** @type {{ __next_f?: [number, string?][] }} */ (/** @type {unknown} */ (window)).__next_f ?? [];
    const named = pieces.flatMap(([, text]) => text?.match(/\/_next\/static\/chunks\/[\w.~-]+\.js/g) ?? []);
    const scripts = document.createDocumentFragment();
    for (const src of new Set([...ofEveryPage, ...named])) {
      scripts.append(Object.assign(document.createElement('script'), { src }));
    }
    document.head.append(scripts);
  };
  // What nobody sees is not painted.
  if (document.hidden || !PerformanceObserver.supportedEntryTypes.includes('paint')) {
    start();
    return;
  }
  new PerformanceObserver((seen) => {
    if (seen.getEntriesByName('first-contentful-paint').length > 0) start();
  }).observe({ type: 'paint', buffered: true });
  document.addEventListener('visibilitychange', start);
  setTimeout(start, 3_000);
}

/**
 * Has a page bring its scripts once it was seen: what the server has drawn is read before they come, and on a slow line they would take
 * turns with its style sheets and fonts, on a slow processor with its first drawing.
 * @param {string} distDir
 */
export async function startPagesAfterPaint(distDir) {
  const buildManifest = path.join(distDir, 'build-manifest.json');
  const build = /** @type {{ rootMainFiles: string[] }} */ (JSON.parse(await readFile(buildManifest, 'utf8')));
  const ofEveryPage = build.rootMainFiles.map((file) => `/_next/${file}`);
  const text = `${COMPILE_NOW}(${startAfterPaint.toString()})(${JSON.stringify(ofEveryPage)});\n`;
  const name = `static/chunks/start-${createHash('sha256').update(text).digest('hex').slice(0, 12)}.js`;
  await writeFile(path.join(distDir, name), text);
  await writeFile(buildManifest, JSON.stringify({ ...build, rootMainFiles: [name] }));

  for (const file of await findPageLists(distDir)) {
    const [, head, json] = LISTED.exec(await readFile(file, 'utf8')) ?? [];
    if (head === undefined || json === undefined) throw new Error(`${file} does not say what its page is made of`);
    const list = /** @type {{ moduleLoading: object | null, entryJSFiles: Record<string, string[]> }} */ (
      JSON.parse(json)
    );
    // The two ways in which a page that is drawn has its scripts fetched at once.
    list.moduleLoading = null;
    list.entryJSFiles = Object.fromEntries(Object.keys(list.entryJSFiles).map((entry) => [entry, []]));
    await writeFile(file, `${head}${JSON.stringify(list)};\n`);
  }
}
