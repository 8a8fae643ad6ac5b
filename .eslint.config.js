import tseslint from 'typescript-eslint';

// Only what needs types: everything else is the formatter's and linter's business.
export default tseslint.config({
  files: ['src/**/*.{ts,tsx}', 'schemas/**/*.ts', 'site/**/*.{ts,tsx}', 'tests/**/*.{ts,tsx}'],
  languageOptions: {
    parser: tseslint.parser,
    parserOptions: { project: ['./tests/tsconfig.json'] },
  },
  plugins: { '@typescript-eslint': tseslint.plugin },
  rules: {
    '@typescript-eslint/await-thenable': 'error',
    '@typescript-eslint/no-floating-promises': 'error',
    '@typescript-eslint/no-misused-promises': 'error',
    '@typescript-eslint/no-unnecessary-type-assertion': 'error',
    '@typescript-eslint/no-unsafe-argument': 'error',
    '@typescript-eslint/no-unsafe-assignment': 'error',
    '@typescript-eslint/no-unsafe-return': 'error',
    '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
    '@typescript-eslint/only-throw-error': 'error',
  },
});
