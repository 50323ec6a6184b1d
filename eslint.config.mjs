import tseslint from 'typescript-eslint';
import hooks from 'eslint-plugin-react-hooks';
import house from './scripts/lint/house.mjs';

const RANDOM = {
  object: 'Math',
  property: 'random',
  message: 'core is repeatable: take a seeded generator as an argument.',
};
const TRIG = ['sin', 'cos', 'tan', 'asin', 'acos', 'atan', 'atan2'].map((property) => ({
  object: 'Math',
  property,
  message:
    'Angles are branded: take sin, cos, tan, asin, acos and atan2 from core/space, which know radians from degrees.',
}));
const noGlobals = (names, why) => names.map((name) => ({ name, message: why }));

export default tseslint.config(
  { ignores: ['node_modules', 'out', 'test-results', 'playwright-report', 'assets', '.cache'] },
  ...tseslint.configs.recommended,
  {
    files: ['**/*.{ts,tsx,mjs}'],
    plugins: { house },
    rules: {
      'house/arrows': 'error',
      'house/units': 'error',
      'no-eval': 'error',
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'prefer-const': 'error',
      '@typescript-eslint/consistent-type-imports': ['error', { fixStyle: 'inline-type-imports' }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
    },
  },
  {
    // what only the types can tell, where promises are many: tests of core have none
    files: ['{core,renderer,electron,scripts}/**/*.{ts,tsx}', 'tests/{e2e,e2e-electron,electron,renderer}/**/*.ts'],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': 'error',
      '@typescript-eslint/await-thenable': 'error',
    },
  },
  {
    files: ['{core,renderer,electron}/**/*.{ts,tsx}'],
    rules: {
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      '@typescript-eslint/no-unnecessary-condition': 'error',
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
      'no-restricted-properties': ['error', RANDOM, ...TRIG],
    },
  },
  {
    // the one door to Math's own, and the kernel's innermost loop, where arrays of cos θ and sin θ take the names
    files: ['core/space/angle.ts', 'core/travel/kinematics.ts'],
    rules: { 'no-restricted-properties': ['error', RANDOM] },
  },
  {
    files: ['renderer/**/*.{ts,tsx}'],
    plugins: { 'react-hooks': hooks },
    rules: {
      'react-hooks/rules-of-hooks': 'error',
      'react-hooks/exhaustive-deps': 'error',
      'no-restricted-properties': ['error', ...TRIG],
    },
  },
  {
    files: ['renderer/**/*.{ts,tsx}'],
    ignores: ['renderer/state/**'],
    rules: {
      'no-restricted-syntax': [
        'error',
        {
          selector: "CallExpression[callee.property.name='setState']",
          message: 'Only renderer/state/ writes the stores: call one of its named actions, or add one there.',
        },
      ],
    },
  },
);
