import tseslint from 'typescript-eslint'
import importX from 'eslint-plugin-import-x'
import reactHooks from 'eslint-plugin-react-hooks'
import boundaries from './scripts/lint/boundaries.js'
import sentences from './scripts/lint/sentences.js'

const hostGlobals = [
  'process',
  'window',
  'document',
  'navigator',
  'Buffer',
  'require',
  'fetch',
  'localStorage',
  'setTimeout',
  'setInterval',
  'console',
  '__dirname',
]

export default tseslint.config(
  { ignores: ['out/**', 'node_modules/**', 'demo-out/**', 'coverage/**'] },
  ...tseslint.configs.recommended,
  {
    plugins: { leadside: { rules: { boundaries, sentences } } },
    rules: {
      'leadside/boundaries': 'error',
      'leadside/sentences': 'error',
      curly: ['error', 'multi-line'],
      eqeqeq: ['error', 'smart'],
      'no-console': 'off',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
    },
  },
  {
    // Types count, too: two files that only know each other's types are still one place to read.
    files: ['shared-core/**/*.ts', 'electron/**/*.ts', 'renderer/**/*.{ts,tsx}'],
    plugins: { 'import-x': importX },
    settings: {
      'import-x/extensions': ['.ts', '.tsx'],
      'import-x/parsers': { '@typescript-eslint/parser': ['.ts', '.tsx'] },
    },
    rules: { 'import-x/no-cycle': ['error', { ignoreExternal: true }] },
  },
  {
    files: ['shared-core/**/*.ts'],
    rules: {
      'no-restricted-globals': ['error', ...hostGlobals],
      'no-restricted-properties': [
        'error',
        { object: 'Date', property: 'now', message: 'time is an argument in shared-core' },
        { object: 'Math', property: 'random', message: 'chance is an argument in shared-core' },
      ],
      'no-restricted-syntax': [
        'error',
        {
          selector: 'NewExpression[callee.name="Date"][arguments.length=0]',
          message: 'time is an argument in shared-core',
        },
      ],
    },
  },
  {
    files: ['renderer/**/*.{ts,tsx}'],
    plugins: { 'react-hooks': reactHooks },
    rules: { ...reactHooks.configs.recommended.rules },
  },
)
