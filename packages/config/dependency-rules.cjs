const path = require('node:path');

/**
 * Which way the arrows point. Every rule here has a planted violation in test/architecture that it must report:
 * a rule that allows everything fails our own tests.
 *
 * A workspace package is reached by its name and resolves to its build (`packages/<name>/dist`), so every rule about a
 * package names both its folders.
 */
const error = (name, comment, from, to) => ({ name, comment, severity: 'error', from, to });

const built = (name) => `^packages/${name}/(src|dist)/`;
const inside = (name) => `^packages/${name}/`;

module.exports = {
  forbidden: [
    error(
      'no-cycles',
      'Two files that need each other are one file, or miss a third.',
      {},
      { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    ),
    error(
      'quantity-depends-on-nothing',
      'Units are the bottom of everything.',
      { path: '^packages/quantity/src', pathNot: '[.]test[.]ts$' },
      { pathNot: inside('quantity') },
    ),
    error(
      'calc-depends-on-nothing',
      'Formulas are pure: quantities, and the linear-programming solver (a wasm library, no I/O of its own).',
      { path: '^packages/calc/src', pathNot: '[.]test[.]ts$' },
      { pathNot: [inside('calc'), built('quantity'), '(^|/)node_modules/highs/'] },
    ),
    error(
      'drawing-depends-on-quantity-only',
      'Drawings are pure text from plain shapes.',
      { path: '^packages/drawing/src', pathNot: '[.]test[.]ts$' },
      { pathNot: [inside('drawing'), built('quantity')] },
    ),
    error(
      'contracts-depend-on-zod-only',
      'Shapes that cross a wire know no service.',
      { path: '^packages/contracts/src', pathNot: '[.]test[.]ts$' },
      { pathNot: [inside('contracts'), '(^|/)node_modules/zod/', built('quantity'), built('calc')] },
    ),
    error(
      'contracts-take-only-types-from-calc',
      'A browser that validates a form must not load the calculations; the tables of checks and figures are plain data.',
      { path: '^packages/contracts/src', pathNot: '[.]test[.]ts$' },
      {
        path: built('calc'),
        pathNot: `${built('calc')}(circuit-checks/checks|figures/[a-z-]+)[.](ts|js|d[.]ts)$`,
        dependencyTypesNot: ['type-only'],
      },
    ),
    error(
      'web-never-sees-api-or-database',
      'The browser talks HTTP.',
      { path: '^apps/web/' },
      { path: '^(apps/api|prisma|packages/launcher)/|(^|/)node_modules/(pg|@prisma)/' },
    ),
    error('api-never-sees-web', 'The API serves any client.', { path: '^apps/api/' }, { path: '^apps/web/' }),
    error(
      'product-never-starts-itself',
      'Starting, migrating and backing up is the launcher’s, which nothing in the product may need.',
      { path: '^(apps|packages/(quantity|calc|contracts|drawing|planner))/' },
      { path: '^packages/launcher/' },
    ),
    error(
      'platform-knows-no-domain',
      'The platform would otherwise grow an if for every area.',
      { path: '^apps/api/src/platform/' },
      { path: '^apps/api/src/modules/' },
    ),
    error(
      'modules-meet-at-the-index',
      'An area shows what others may use in its index.',
      { path: '^apps/api/src/modules/([^/]+)/' },
      {
        path: '^apps/api/src/modules/([^/]+)/.+',
        pathNot: ['^apps/api/src/modules/$1/', '^apps/api/src/modules/[^/]+/index[.]ts$'],
      },
    ),
    error(
      'only-repositories-touch-the-database',
      'A query outside a repository is a query nobody reviews for tenancy.',
      { path: '^apps/api/src/modules/', pathNot: '[.](repository|module|test)[.]ts$' },
      { path: '^apps/api/src/platform/db/' },
    ),
    error(
      'repositories-call-no-rule',
      'A repository reads and writes; the rule stands before it, where it can be tested and called without a database.',
      { path: '[.]repository[.]ts$' },
      {
        path: [
          '[.](service|evaluator|controller|task|thread)[.]ts$',
          '[/-]rules?[.]ts$',
          '^apps/api/src/modules/[^/]+/index[.]ts$',
        ],
      },
    ),
    error(
      'controllers-skip-no-layer',
      'The rule is in the service; a controller that goes around it goes around the policy.',
      { path: '[.]controller[.]ts$' },
      { path: '[.]repository[.]ts$' },
    ),
    error(
      'services-know-no-http',
      'A rule holds whoever asks.',
      { path: '[.]service[.]ts$' },
      { path: '[.]controller[.]ts$|(^|/)node_modules/(fastify|@nestjs/platform-fastify)/' },
    ),
    error(
      'features-do-not-meet',
      'What two features share belongs to ui or lib.',
      { path: '^apps/web/src/features/([^/]+)/' },
      {
        path: '^apps/web/src/features/',
        pathNot: ['^apps/web/src/features/$1/', '^apps/web/src/features/[^/]+/index[.]tsx?$'],
      },
    ),
    error(
      'pages-use-the-feature-index',
      'A route sees a feature from outside.',
      { path: '^apps/web/src/app/' },
      { path: '^apps/web/src/features/[^/]+/', pathNot: '^apps/web/src/features/[^/]+/index[.]tsx?$' },
    ),
    error(
      'ui-knows-no-domain',
      'Buttons and tables are the same for every noun.',
      { path: '^apps/web/src/(ui|lib)/' },
      { path: '^apps/web/src/(app|features)/' },
    ),
    error(
      'no-undeclared-package',
      'What is imported is declared where it is imported.',
      { path: '^(apps|packages|test)/' },
      { dependencyTypes: ['npm-no-pkg', 'npm-unknown'] },
    ),
    error(
      'no-unresolvable',
      'An import that leads nowhere.',
      { path: '^(apps|packages|test|prisma)/' },
      { couldNotResolve: true },
    ),
    error(
      'no-test-code-in-product',
      'Test code never ships.',
      { path: '^(apps|packages)/[^/]+/src/', pathNot: '[.]test[.]tsx?$' },
      { path: '^test/|[.]test[.]tsx?$|^packages/[^/]+/test/' },
    ),
  ],
  options: {
    tsPreCompilationDeps: true,
    // For `@/…`, by which the pages name their own files.
    tsConfig: { fileName: path.join(__dirname, 'tsconfig.arrows.json') },
    doNotFollow: { path: ['node_modules', '(^|/)dist/'] },
    exclude: { path: ['/[.]next/', '^[.]data/', 'next-env[.]d[.]ts$'] },
    combinedDependencies: false,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'types', 'default'],
      mainFields: ['types', 'main'],
      extensions: ['.ts', '.tsx', '.d.ts', '.js', '.mjs', '.cjs', '.json'],
    },
  },
};
