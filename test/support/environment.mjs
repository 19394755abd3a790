import { TestEnvironment } from 'jest-environment-node';

/**
 * Node's environment, and a way to what is loaded by Node itself: once for all files of a worker. Jest would load and compile the whole
 * application, and what drives it, again for every file.
 */
export default class SharingEnvironment extends TestEnvironment {
  /** @param {ConstructorParameters<typeof TestEnvironment>} args */
  constructor(...args) {
    super(...args);
    this.global.sharedDate = Date;
    this.global.loadShared = (/** @type {string} */ specifier) => import(specifier);
  }
}
