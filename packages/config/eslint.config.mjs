import fs from 'node:fs';
import { fileURLToPath } from 'node:url';
import tseslint from 'typescript-eslint';

const rootDir = fileURLToPath(new URL('../..', import.meta.url));

/** Which configuration a file's types come from; tests of every workspace are in the one of `test`. */
const PROJECTS = ['packages/*/tsconfig.json', 'apps/*/tsconfig.json', 'prisma/tsconfig.json', 'test/tsconfig.json'];

/** Files that compute or store: SI base units inside, the unit last in the name. */
const SI_FILES = ['packages/{calc,contracts,drawing}/src/**/*.ts', 'apps/api/src/**/*.ts'];
const NON_SI_ENDING = '/[a-z](Bar|Psi|MPa|Mpa|KPa|Kpa|Mm|Cm|Inch|KN|Kn|Lbf|LPerMin|Deg)$/';
const SI_MESSAGE =
  'SI base units inside: pressurePa, boreM, forceN. Everyday units exist only where a person reads or types.';

/** Anything that runs a test only here, or not at all. */
const TEST_SWITCHES = [
  {
    selector:
      'CallExpression > MemberExpression.callee[object.name=/^(it|test|describe)$/][property.name=/^(only|skip|todo|failing)$/]',
    message: 'Every test runs, every time.',
  },
  {
    selector:
      'CallExpression > MemberExpression.callee[object.object.name=/^(it|test|describe)$/][object.property.name=/^(only|skip|failing)$/]',
    message: 'Every test runs, every time.',
  },
  {
    // With a function behind its name: `fit` alone is also a good name for a function about fits.
    selector: 'CallExpression[callee.name=/^(xit|xtest|xdescribe|fit|fdescribe)$/][arguments.1.type=/Function/]',
    message: 'Every test runs, every time.',
  },
];

/** `n += await f()` reads n before it waits: of two that run at once, one count is lost. */
const SUMS = String.raw`AssignmentExpression[operator=/^[-+*/%&|^<>]+=$/]`;
const LOST_COUNT = {
  selector: `${SUMS} > AwaitExpression.right, ${SUMS} > .right AwaitExpression`,
  message: 'Wait first, then add: what is read before waiting may be old by then.',
};

/** A clock that is put in place of the platform's own is a clock for whatever runs beside it, and a test's own is not the application's. */
const PATCHED_CLOCK = {
  selector: [
    'AssignmentExpression > MemberExpression.left[object.name="Date"]',
    'AssignmentExpression > MemberExpression.left[object.name=/^(globalThis|global|window|self)$/][property.name=/^(Date|performance)$/]',
    'CallExpression[callee.object.name=/^(Object|Reflect)$/][callee.property.name=/^(defineProperty|assign|set)$/] > Identifier.arguments[name="Date"]',
    'CallExpression[callee.object.name="jest"][callee.property.name=/^(spyOn|replaceProperty)$/] > Identifier.arguments[name="Date"]',
    'CallExpression[callee.object.name="jest"][callee.property.name=/^(useFakeTimers|setSystemTime)$/]',
  ].join(', '),
  message: 'Time is told by clock.now of test/support/shared.ts, or is a parameter.',
};

/** Names that say nothing of what they hold; of a function that is one expression they may be a parameter. */
const EMPTY_NAMES = '/^(of|own|said|told|one|it)$/';
const EMPTY_NAME = {
  selector: [
    `VariableDeclarator > Identifier.id[name=${EMPTY_NAMES}]`,
    `VariableDeclarator > :matches(ObjectPattern, ArrayPattern) Identifier[name=${EMPTY_NAMES}]:not(Property > .key)`,
    `:matches(FunctionDeclaration, ClassDeclaration) > Identifier.id[name=${EMPTY_NAMES}]`,
    `:matches(FunctionDeclaration, FunctionExpression, ArrowFunctionExpression[body.type=BlockStatement]) > .params[name=${EMPTY_NAMES}]`,
    `:matches(FunctionDeclaration, FunctionExpression, ArrowFunctionExpression[body.type=BlockStatement]) > .params :matches(Property > .value, RestElement > .argument)[name=${EMPTY_NAMES}]`,
  ].join(', '),
  message: 'A name says what it holds.',
};

/** What no file may hold, whatever else its place forbids. */
const EVERYWHERE = [...TEST_SWITCHES, LOST_COUNT, PATCHED_CLOCK, EMPTY_NAME];

const SI_NAMES = ['TSPropertySignature', 'Property', 'PropertyDefinition'].map((node) => ({
  selector: `${node} > Identifier.key[name=${NON_SI_ENDING}]`,
  message: SI_MESSAGE,
}));
const SI_VARIABLES = { selector: `VariableDeclarator > Identifier.id[name=${NON_SI_ENDING}]`, message: SI_MESSAGE };

/** The columns that hold documents, by the names that the client and plain SQL give them. */
const DOCUMENT_COLUMNS = [
  ...new Set(
    fs
      .readdirSync(`${rootDir}prisma/schema`)
      .flatMap((file) => [
        ...fs
          .readFileSync(`${rootDir}prisma/schema/${file}`, 'utf8')
          .matchAll(/^ {2}(\w+) +Json\b(?:.*@map\("(\w+)"\))?/gm),
      ])
      .flatMap(([, name, column]) => (column === undefined ? [name] : [name, column])),
  ),
];
const UNREAD_MESSAGE = 'What is stored is read by its schema (platform/documents), so that it is what it is taken for.';
const UNREAD_DOCUMENTS = [
  'TSAsExpression > CallExpression.expression[callee.object.name="JSON"][callee.property.name="parse"]',
  `TSAsExpression > MemberExpression.expression[property.name=/^(canonical_text|${DOCUMENT_COLUMNS.join('|')})$/]`,
  'TSAsExpression > MemberExpression.expression[object.name="row"]',
  'TSAsExpression > Identifier.expression[name="stored"]',
].map((selector) => ({ selector, message: UNREAD_MESSAGE }));

/** What a calculation takes is one object whose fields carry unit, meaning and limits; helpers take what they like. */
const ONE_PARAMETER = {
  selector:
    'ExportNamedDeclaration > FunctionDeclaration[params.length>1] > Identifier.params > TSTypeAnnotation > TSTypeReference > Identifier[name=/Input$/]',
  message: 'A calculation takes one object.',
};

const OWN_LINES = { max: 450, skipBlankLines: false, skipComments: false };

/** What one screen shows of a function, without its comments and blank lines. */
const ONE_SCREEN = { max: 50, skipBlankLines: true, skipComments: true };

/** Where every name says what it holds; the calculations' sources and the API's modules follow. */
export default [
  {
    ignores: [
      '**/node_modules/**',
      '**/dist/**',
      '**/.next/**',
      '**/.data/**',
      '**/.turbo/**',
      '**/next-env.d.ts',
      '**/generated/**',
      '**/*.generated.ts',
    ],
  },
  {
    files: ['**/*.{js,mjs,cjs,ts,tsx}'],
    // A comment can switch no rule off: what is wrong is changed, or the rule is.
    linterOptions: { noInlineConfig: true },
    rules: {
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'max-lines': ['error', OWN_LINES],
      'no-cond-assign': 'error',
      'no-constant-binary-expression': 'error',
      'no-debugger': 'error',
      'no-dupe-keys': 'error',
      'no-duplicate-case': 'error',
      'no-empty': ['error', { allowEmptyCatch: false }],
      'no-fallthrough': 'error',
      'no-implicit-coercion': 'error',
      'no-restricted-syntax': ['error', ...EVERYWHERE],
      'no-self-compare': 'error',
      'no-unreachable': 'error',
      'no-unsafe-finally': 'error',
      'no-useless-escape': 'error',
      'no-var': 'error',
      'no-warning-comments': ['error', { terms: ['todo', 'fixme', 'xxx', 'hack'], location: 'anywhere' }],
      'object-shorthand': 'error',
      'prefer-const': 'error',
      'use-isnan': 'error',
      'valid-typeof': 'error',
    },
  },
  ...tseslint.configs.recommended.map((config) => ({ ...config, files: ['**/*.{ts,tsx}'] })),
  {
    files: ['**/*.{ts,tsx}'],
    languageOptions: { parser: tseslint.parser, parserOptions: { project: PROJECTS, tsconfigRootDir: rootDir } },
    rules: {
      '@typescript-eslint/await-thenable': 'error',
      '@typescript-eslint/ban-ts-comment': [
        'error',
        { 'ts-expect-error': true, 'ts-ignore': true, 'ts-nocheck': true },
      ],
      '@typescript-eslint/consistent-type-imports': [
        'error',
        { fixStyle: 'inline-type-imports', disallowTypeAnnotations: false },
      ],
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': ['error', { checksVoidReturn: { attributes: false } }],
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', varsIgnorePattern: '^_', ignoreRestSiblings: true },
      ],
      '@typescript-eslint/only-throw-error': 'error',
      '@typescript-eslint/require-await': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
    },
  },
  {
    // Nest reads a constructor's types at run time, so an import that looks type-only is not.
    files: ['apps/api/src/**/*.ts'],
    rules: { '@typescript-eslint/consistent-type-imports': 'off' },
  },
  {
    files: SI_FILES,
    ignores: ['packages/calc/src/units/**', '**/*.test.ts'],
    rules: { 'no-restricted-syntax': ['error', ...EVERYWHERE, ...SI_NAMES, SI_VARIABLES] },
  },
  {
    // What the platform parses is no record: cursors, bodies, packed files.
    files: ['apps/api/src/{modules,documents}/**/*.ts'],
    ignores: ['**/*.test.ts'],
    rules: {
      'no-restricted-syntax': ['error', ...EVERYWHERE, ...SI_NAMES, SI_VARIABLES, ...UNREAD_DOCUMENTS],
    },
  },
  {
    files: ['packages/{calc,quantity,drawing,planner}/src/**/*.ts'],
    ignores: ['**/*.test.ts'],
    rules: { 'no-restricted-globals': ['error', 'Date', 'process', 'console', 'fetch'] },
  },
  {
    files: ['packages/calc/src/*/*.ts'],
    ignores: ['packages/calc/src/registry/**', '**/*.test.ts'],
    rules: { 'no-restricted-syntax': ['error', ...EVERYWHERE, ...SI_NAMES, SI_VARIABLES, ONE_PARAMETER] },
  },
  {
    // One reader of the environment: everything else is told.
    files: ['apps/api/src/**/*.ts'],
    ignores: ['apps/api/src/config/**', '**/*.test.ts'],
    rules: {
      'no-restricted-properties': [
        'error',
        { object: 'process', property: 'env', message: 'Only src/config reads it.' },
      ],
    },
  },
  {
    files: ['apps/{api,web}/src/**/*.{ts,tsx}'],
    rules: { 'no-console': 'error' },
  },
  {
    // A suite of tests is one function, of whatever length.
    files: ['{apps,packages}/*/{src,scripts,bin,bench}/**/*.{ts,tsx,mjs}'],
    ignores: ['**/*.test.{ts,tsx}'],
    rules: { 'max-lines-per-function': ['error', ONE_SCREEN] },
  },
  {
    // A page is a route: it fetches nothing and decides nothing, it shows a feature.
    files: ['apps/web/src/app/**/page.tsx'],
    rules: { 'max-lines': ['error', { max: 40, skipBlankLines: true, skipComments: true }] },
  },
];
