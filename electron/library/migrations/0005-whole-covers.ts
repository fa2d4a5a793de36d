/**
 * Covers used to be put on one frame, and showed the face on all others. One that stands on a single frame is stretched
 * over its whole clip; a range was set on purpose and stays.
 */
export const wholeCovers = {
  version: 5,
  name: 'whole-covers',
  sql: `
UPDATE drawing SET
  moment_id = NULL,
  from_frame = 0,
  to_frame = (
    SELECT media.frame_count - 1 FROM view
    JOIN clip ON clip.id = view.clip_id
    JOIN media ON media.hash = clip.media_hash
    WHERE view.id = drawing.view_id
  )
WHERE json_extract(shape, '$.kind') = 'cover' AND from_frame = to_frame;
`,
} as const
