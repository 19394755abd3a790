/**
 * @typedef {object} EngineCommand
 * @property {boolean} isVersionAsked
 * @property {string} [databaseCommand] `can-connect-to-database`, `create-database` or `drop-database`
 * @property {string} url of the database
 * @property {string[]} schemaFiles
 */

/**
 * Reads the options that Prisma's command line gives its engine.
 * @param {string[]} args
 * @returns {EngineCommand}
 */
export function readCommandLine(args) {
  const cli = args.indexOf('cli');
  const datasource = valuesOf(args, ['--datasource'])[0];
  const url = datasource === undefined ? undefined : parseDatasource(datasource).url;
  return {
    isVersionAsked: args.includes('--version'),
    databaseCommand: cli === -1 ? undefined : args[cli + 1],
    url: url ?? process.env.DATABASE_OWNER_URL ?? '',
    schemaFiles: valuesOf(args, ['-d', '--datamodels']),
  };
}

/**
 * @param {string[]} args
 * @param {string[]} names
 */
function valuesOf(args, names) {
  return args.filter((_, index) => names.includes(args[index - 1] ?? ''));
}

/**
 * Plain JSON, or the same in base64.
 * @param {string} text
 * @returns {{ url?: string }}
 */
function parseDatasource(text) {
  return JSON.parse(text.startsWith('{') ? text : Buffer.from(text, 'base64').toString('utf8'));
}
