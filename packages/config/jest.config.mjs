import { fileURLToPath } from 'node:url';

const rootDir = fileURLToPath(new URL('../..', import.meta.url));

/** @param {{ decorators?: boolean, jsx?: boolean }} options */
function transform({ decorators = false, jsx = false }) {
  const parser = { syntax: 'typescript', decorators, tsx: jsx };
  const legacy = decorators ? { legacyDecorator: true, decoratorMetadata: true } : {};
  const react = jsx ? { react: { runtime: 'automatic' } } : {};
  const jsc = { parser, transform: { ...legacy, ...react }, target: 'es2022', keepClassNames: true };
  const pattern = jsx ? '^.+\\.tsx?$' : '^.+\\.ts$';
  return {
    [pattern]: ['<rootDir>/packages/config/jest-transform.cjs', { jsc, module: { type: 'es6' }, sourceMaps: 'inline' }],
  };
}

/**
 * One project of the test run.
 * @param {string} displayName
 * @param {string[]} testMatch
 * @param {{ decorators?: boolean, jsx?: boolean, needs?: 'database' | 'pages' }} [options]
 */
function project(displayName, testMatch, { decorators, jsx, needs } = {}) {
  const ending = needs === 'pages' ? '-pages' : '';
  const shared = {
    globalSetup: `<rootDir>/test/support/global-setup${ending}.mjs`,
    globalTeardown: `<rootDir>/test/support/global-teardown${ending}.mjs`,
  };
  return {
    displayName,
    rootDir,
    testMatch: testMatch.map((pattern) => `<rootDir>/${pattern}`),
    testEnvironment: 'node',
    extensionsToTreatAsEsm: jsx ? ['.ts', '.tsx'] : ['.ts'],
    moduleFileExtensions: ['js', 'mjs', 'cjs', 'ts', 'tsx', 'json', 'node'],
    resolver: '<rootDir>/packages/config/jest-resolver.cjs',
    modulePathIgnorePatterns: ['/\\.next/', '/\\.data/', '/dist/.*package\\.json$'],
    transform: transform({ decorators, jsx }),
    // As the pages' own tsconfig has it; a test looks at no style.
    ...(jsx
      ? {
          moduleNameMapper: {
            '\\.css$': '<rootDir>/packages/config/no-styles.cjs',
            '^@/(.*)$': '<rootDir>/apps/web/src/$1',
          },
        }
      : {}),
    ...(needs === undefined ? {} : { ...shared, testEnvironment: '<rootDir>/test/support/environment.mjs' }),
  };
}

/** @type {import('jest').Config} */
export default {
  rootDir,
  maxWorkers: 2,
  // Jest takes this for all projects at once; what starts servers on two busy cores needs it.
  testTimeout: 120_000,
  testSequencer: '<rootDir>/packages/config/jest-sequencer.mjs',
  projects: [
    project('quantity', ['packages/quantity/**/*.test.ts']),
    project('calc', ['packages/calc/**/*.test.ts', 'test/calc/**/*.test.ts']),
    project('contracts', ['packages/contracts/**/*.test.ts']),
    project('drawing', ['packages/drawing/**/*.test.ts']),
    project('api-unit', ['apps/api/src/**/*.test.ts'], { decorators: true }),
    project('web-unit', ['apps/web/src/**/*.test.{ts,tsx}'], { jsx: true }),
    project('api', ['test/{api,tenancy,contracts,migrations,regressions,imports}/**/*.test.ts'], {
      decorators: true,
      needs: 'database',
    }),
    project('architecture', ['test/architecture/**/*.test.ts']),
    project('launcher', ['test/launcher/**/*.test.ts'], { needs: 'database' }),
    project('web', ['test/web/**/*.test.ts'], { needs: 'pages' }),
  ],
};
