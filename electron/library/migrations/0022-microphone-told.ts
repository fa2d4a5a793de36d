/** Whether the distance to the microphone is the coach's own, or the one that stands where nobody said. */
export const microphoneTold = {
  version: 22,
  name: 'microphone-told',
  sql: `
ALTER TABLE lesson ADD COLUMN is_mic_told INTEGER NOT NULL DEFAULT 0;
`,
} as const
