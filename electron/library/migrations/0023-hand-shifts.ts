/** How the picture shows the hands go from one read frame to the next, beside the model's points; none for what was read before. */
export const handShifts = {
  version: 23,
  name: 'hand-shifts',
  sql: `
ALTER TABLE body_points ADD COLUMN shifts BLOB;
`,
} as const
