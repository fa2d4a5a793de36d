/** Whether the coach has confirmed a shot's flagged values, and which of its units were assumed and not yet confirmed. */
export const shotTrust = {
  version: 10,
  name: 'shot-trust',
  sql: `
ALTER TABLE shot ADD COLUMN is_trusted INTEGER NOT NULL DEFAULT 0;
ALTER TABLE shot ADD COLUMN assumed TEXT NOT NULL DEFAULT '[]';
`,
} as const
