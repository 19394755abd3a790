const fs = require('node:fs');
const path = require('node:path');

/**
 * TypeScript wants `./name.js` in an import of `./name.ts`, and Jest looks for the file as written.
 * A name mapper would rewrite imports inside node_modules too; this looks whether the source file is there.
 */
module.exports = function resolve(request, options) {
  if (request.startsWith('.') && request.endsWith('.js')) {
    const stem = path.resolve(options.basedir, request.slice(0, -'.js'.length));
    const source = ['.ts', '.tsx'].map((extension) => stem + extension).find((file) => fs.existsSync(file));
    if (source !== undefined && !source.includes(`${path.sep}node_modules${path.sep}`)) return source;
  }
  return options.defaultResolver(request, options);
};
