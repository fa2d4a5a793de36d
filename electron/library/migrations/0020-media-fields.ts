/** An interlaced film's pictures are those of its working copy: both halves of every frame. */
export const mediaFields = {
  version: 20,
  name: 'media-fields',
  sql: `
ALTER TABLE media ADD COLUMN shows_fields INTEGER NOT NULL DEFAULT 0;
`,
} as const
