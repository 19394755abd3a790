import { TestEnvironment } from 'jest-environment-node';

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
}
