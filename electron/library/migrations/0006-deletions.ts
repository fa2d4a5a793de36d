/** What was deleted for good: the plan while files are still to go, afterwards only how much it was. */
export const deletions = {
  version: 6,
  name: 'deletions',
  sql: `
CREATE TABLE deletion (
  id TEXT PRIMARY KEY NOT NULL,
  asked_at TEXT NOT NULL,
  finished_at TEXT,
  plan TEXT,
  lessons INTEGER NOT NULL,
  clips INTEGER NOT NULL,
  files INTEGER NOT NULL DEFAULT 0,
  bytes INTEGER NOT NULL DEFAULT 0
) STRICT;
`,
} as const
