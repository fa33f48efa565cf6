import tseslint from 'typescript-eslint';

const limits = {
  'max-lines-per-function': ['error', { max: 60, skipBlankLines: true, skipComments: true }],
  'max-params': ['error', 4],
  'max-depth': ['error', 4],
};

export default tseslint.config(
  { ignores: ['**/node_modules/**', '.build/**', '.test-output/**', '**/*.mjs', '**/*.d.mts', '**/*.js'] },
  ...tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        projectService: true,
        tsconfigRootDir: new URL('..', import.meta.url).pathname,
      },
    },
    rules: {
      ...limits,
      eqeqeq: 'error',
      'no-console': 'error',
      'prefer-const': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      '@typescript-eslint/consistent-type-assertions': ['error', { assertionStyle: 'never' }],
      // Typed-array arithmetic under noUncheckedIndexedAccess needs it; a missing index shows as NaN and is refused.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', ignoreRestSiblings: true }],
      '@typescript-eslint/restrict-template-expressions': [
        'error',
        { allowNumber: true, allowBoolean: true },
      ],
      'no-restricted-syntax': [
        'error',
        { selector: 'TSEnumDeclaration', message: 'use a union of literals' },
        { selector: 'ExportDefaultDeclaration', message: 'named exports only' },
      ],
    },
  },
  {
    // Tests: describe blocks are long by nature, and configuration files must export a default.
    files: ['tests/**/*.ts', 'tests/**/*.tsx'],
    rules: { 'max-lines-per-function': 'off', 'no-restricted-syntax': 'off', 'no-console': 'off' },
  },
);
