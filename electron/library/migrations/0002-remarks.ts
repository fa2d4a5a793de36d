/** What a written package went without (no PDF, say) stays with it. */
export const remarks = {
  version: 2,
  name: 'remarks',
  sql: `
ALTER TABLE hand_over ADD COLUMN remarks TEXT NOT NULL DEFAULT '[]';
`,
} as const
