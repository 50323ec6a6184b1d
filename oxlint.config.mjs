const restricted = (properties, message) => properties.map((property) => ({ object: 'Math', property, message }));
const RANDOM = restricted(['random'], 'core is repeatable: take a seeded generator as an argument.');
const TRIG = restricted(
  ['sin', 'cos', 'tan', 'asin', 'acos', 'atan', 'atan2'],
  'Angles are branded: take sin, cos, tan, asin, acos and atan2 from core/space, which know radians from degrees.',
);
const noGlobals = (names, message) => names.map((name) => ({ name, message }));

export default {
  plugins: ['eslint', 'typescript', 'react'],
  jsPlugins: ['./scripts/lint/house.mjs'],
  options: { typeAware: true, reportUnusedDisableDirectives: 'error' },
  categories: { correctness: 'error' },
  ignorePatterns: ['node_modules', 'out', 'test-results', 'playwright-report', 'assets', '.cache'],
  rules: {
    'house/arrows': 'error',
    'house/units': 'error',
    'house/writer': 'error',
    'no-eval': 'error',
    eqeqeq: ['error', 'always', { null: 'ignore' }],
    'prefer-const': 'error',
    'typescript/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
    'no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
    'typescript/no-explicit-any': 'error',
    'typescript/ban-ts-comment': 'error',
    'typescript/no-floating-promises': 'error',
    'typescript/no-misused-promises': 'error',
    'typescript/await-thenable': 'error',
    'no-control-regex': 'off',
    'no-empty-pattern': 'off',
    'no-loss-of-precision': 'off',
    'typescript/no-base-to-string': 'off',
    'typescript/no-implied-eval': 'off',
    // a branded angle or length is a number: minus and a template take it
    'typescript/no-unsafe-unary-minus': 'off',
    'typescript/restrict-template-expressions': 'off',
    // our methods don't use `this`
    'typescript/unbound-method': 'off',
    'typescript/no-misused-spread': 'off',
    'typescript/require-array-sort-compare': 'off',
    // for a compiler of React that we don't use
    'react/refs': 'off',
    'react/static-components': 'off',
    'react/immutability': 'off',
  },
  overrides: [
    {
      files: ['{core,renderer,electron}/**/*.{ts,tsx}'],
      rules: {
        'typescript/switch-exhaustiveness-check': 'error',
        'typescript/no-unnecessary-condition': 'error',
      },
    },
    {
      files: ['core/**/*.ts'],
      rules: {
        'no-restricted-globals': [
          'error',
          ...noGlobals(
            ['window', 'document', 'navigator', 'fetch', 'localStorage', 'indexedDB'],
            'core knows no page: take what you need as an argument.',
          ),
          ...noGlobals(['process', 'Buffer', 'require'], 'core knows no Node: take what you need as an argument.'),
          ...noGlobals(
            ['setTimeout', 'setInterval', 'performance', 'Date'],
            'core knows no clock: take the time as an argument.',
          ),
        ],
        'no-restricted-properties': ['error', ...RANDOM, ...TRIG],
      },
    },
    {
      // the one door to Math's own, and the kernel's innermost loop, where arrays of cos θ and sin θ take the names
      files: ['core/space/angle.ts', 'core/travel/kinematics.ts'],
      rules: { 'no-restricted-properties': ['error', ...RANDOM] },
    },
    {
      files: ['renderer/**/*.{ts,tsx}'],
      rules: {
        'no-restricted-properties': ['error', ...TRIG],
        'react/rules-of-hooks': 'error',
        'react/exhaustive-deps': 'error',
      },
    },
  ],
};
