import js from '@eslint/js';
import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['**/dist/**', '**/node_modules/**', '**/core/docs/**', '**/*.mjs', '**/bin/*.js'] },
  js.configs.recommended,
  tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        project: ['.config/tsconfig.test.json'],
        tsconfigRootDir: new URL('..', import.meta.url).pathname,
      },
    },
    rules: {
      eqeqeq: 'error',
      'no-console': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
    },
  },
  {
    files: ['packages/core/src/**/*.ts'],
    ignores: ['**/*.test.ts'],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            { regex: '^node:|^@limner/|apps/', message: 'core is pure: no Node modules, no session, no apps.' },
          ],
        },
      ],
      'no-restricted-globals': ['error', 'process', 'document', 'window', 'fetch', 'Date'],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Use a seeded generator.' },
        ...[
          'pow',
          'exp',
          'expm1',
          'log',
          'log1p',
          'log2',
          'log10',
          'sin',
          'cos',
          'tan',
          'asin',
          'acos',
          'atan',
          'atan2',
          'sinh',
          'cosh',
          'tanh',
          'cbrt',
        ].map((property) => ({
          object: 'Math',
          property,
          message: 'Engines differ in its last bit: use those of `arithmetic/`.',
        })),
      ],
      'no-restricted-syntax': [
        'error',
        {
          // Squares, and whole powers of 2, are the same on every engine.
          selector:
            ':matches(BinaryExpression[operator="**"]:not([right.value=2]):not([left.value=2]), [operator="**="])',
          message: 'Engines differ in its last bit: use `power`.',
        },
      ],
    },
  },
);
