/** In which language a student's page is written. */
export const pageLanguage = {
  version: 14,
  name: 'page-language',
  sql: `
ALTER TABLE student ADD COLUMN language TEXT NOT NULL DEFAULT 'en';
`,
} as const
