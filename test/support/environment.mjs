import { TestEnvironment } from 'jest-environment-node';

/** As many places of a stack as Node keeps: Jest has a hundred kept of every error, and those of the application and the browser's driver are many. */
const KEPT_PLACES = 10;

/**
 * The driver of the browser asks at each call from where it is called. Jest translates every place of every stack back to its source, which
 * takes an eighth of the time of page tests; of the driver's own places there is nothing to translate.
 * @param {NodeJS.CallSite[]} places
 */
const isOfDriver = ([first]) => first?.getFileName()?.includes('playwright-core') === true;
/** @param {NodeJS.CallSite} place */
const isTranslated = (place) => /\.tsx?$/.test(place.getFileName() ?? '');

/** Those places of the driver's stacks that Jest has to translate are left to it; the rest are as they are. */
function translateLess() {
  const translate = Error.prepareStackTrace;
  if (translate === undefined) return;
  Error.prepareStackTrace = (error, places) => {
    if (!isOfDriver(places)) return translate(error, places);
    const translated = places.filter(isTranslated);
    const lines = String(translate(error, translated)).split('\n').slice(-translated.length);
    return [
      String(error),
      ...places.map((place) => (isTranslated(place) ? lines.shift() : `    at ${String(place)}`)),
    ].join('\n');
  };
}

/** What a file of tests leaves for the later ones of its worker. */
const kept = new Map();

/**
 * Node's environment, and a way to what is loaded by Node itself: once for all files of a worker. Jest would load and compile the whole
 * application, and what drives it, again for every file.
 */
export default class SharingEnvironment extends TestEnvironment {
  /** @param {ConstructorParameters<typeof TestEnvironment>} args */
  constructor(...args) {
    super(...args);
    this.global.sharedDate = Date;
    this.global.sharedKept = kept;
    this.global.loadShared = (/** @type {string} */ specifier) => import(specifier);
  }

  /** Jest has set how stacks are kept and told for this file by now. */
  async setup() {
    await super.setup();
    Error.stackTraceLimit = KEPT_PLACES;
    translateLess();
  }
}
