const { createHash } = require('node:crypto');
const fs = require('node:fs');
const swc = require('@swc/jest');

/** What is kept of an earlier run was written by this file as it is, or is written anew. */
const VERSION = createHash('sha1').update(fs.readFileSync(__filename)).digest('hex');

/**
 * Each test file has globals of its own, and the engine looks each of them up anew every time that one is used, which takes a quarter of the time of
 * what computes. A file takes those that it uses once, at its beginning; they are the same ones. What tests exchange, such as Date, is not among them.
 */
const NAMES = ['Array', 'Error', 'Infinity', 'JSON', 'Map', 'Math', 'NaN', 'Number', 'Object', 'Set', 'String'];

/** @param {string} code without types, an ECMAScript module */
function takeGlobals(code) {
  const used = NAMES.filter((name) => new RegExp(`\\b${name}\\b`).test(code));
  // On the first line, so that every other line stays where it is; no statement of the file's own, which tests would have to run.
  return used.length === 0 ? code : `/* istanbul ignore next */ const { ${used.join(', ')} } = globalThis; ${code}`;
}

module.exports = {
  createTransformer(settings) {
    const transformer = swc.createTransformer(settings);
    return {
      ...transformer,
      getCacheKey: (...args) =>
        createHash('sha1')
          .update(transformer.getCacheKey(...args))
          .update(VERSION)
          .digest('hex'),
      process: (source, file, options) => {
        const result = transformer.process(source, file, options);
        return options.supportsStaticESM ? { ...result, code: takeGlobals(result.code) } : result;
      },
      processAsync: async (...args) => {
        const result = await transformer.processAsync(...args);
        return { ...result, code: takeGlobals(result.code) };
      },
    };
  },
};
