/**
 * Starter drills and cues are kept by their keys, so that they can be said in any language; what the coach has changed in one
 * stays the coach's text. The words are those of versions 1 to 16.
 */
export const startersByKey = {
  version: 17,
  name: 'starters-by-key',
  sql: `
ALTER TABLE drill ADD COLUMN starter_key TEXT;
UPDATE drill SET starter_key = 'soft-shoulder-swishes', name = '', purpose = '', how = '', dose = '', watch_for = '', caution = ''
WHERE name = 'Relaxed-shoulder swishes'
AND purpose = 'Softer shoulders and arms, so that speed comes late'
AND how = 'Hold a club by the head end. Let the shoulders drop on a long breath out. Swing at half effort and listen: the swish should be loudest just past where the ball would be.'
AND dose = '3 sets of 6, a breath between swings, 4 days a week'
AND watch_for = 'The loudest part moving forward; jaw loose; grip no firmer at the end than at the start'
AND caution = 'Warm up first. Stop at once if anything hurts. Check the space around you and follow the rules of the place.';
UPDATE drill SET starter_key = 'light-stick-speed', name = '', purpose = '', how = '', dose = '', watch_for = '', caution = ''
WHERE name = 'Light-stick speed swings'
AND purpose = 'More club speed once the strike holds'
AND how = 'With a light stick and no ball, swing at an easy pace three times, then three times as fast as balance allows. Finish still on the lead foot each time.'
AND dose = '2 sets of 3 easy + 3 fast, two days a week with a rest day between; no more than this for the first three weeks'
AND watch_for = 'Balance at the finish; no swing faster than one you can hold'
AND caution = 'Warm up first. Stop at once if anything hurts. Check the space around you and follow the rules of the place. This drill is fast or loads the body: not with a sore back, wrist, elbow, shoulder or knee before a medical professional has agreed; minors only with an adult present.';
UPDATE drill SET starter_key = 'brace-against-pull', name = '', purpose = '', how = '', dose = '', watch_for = '', caution = ''
WHERE name = 'Brace against a pull'
AND purpose = 'A firm lead side before impact'
AND how = 'Fix a light elastic band at hip height on the trail side and step into it. From the top, move slowly to the impact position and let the lead leg take the pull without the hip sliding past the foot. Hold two seconds.'
AND dose = '2 sets of 8 slow ones, 3 days a week'
AND watch_for = 'Lead hip over the lead foot; the knee firm, not locked'
AND caution = 'Warm up first. Stop at once if anything hurts. Check the space around you and follow the rules of the place. This drill is fast or loads the body: not with a sore back, wrist, elbow, shoulder or knee before a medical professional has agreed; minors only with an adult present.';
UPDATE drill SET starter_key = 'centre-strike-ladder', name = '', purpose = '', how = '', dose = '', watch_for = '', caution = ''
WHERE name = 'Centre-strike ladder'
AND purpose = 'Strike before speed'
AND how = 'Put a little foot spray on the face. Hit three balls at half speed; if all three marks are within a coin of the middle, go up one step of effort, else go down one.'
AND dose = '15 to 20 balls, twice a week; note the highest step held'
AND watch_for = 'The marks, not the distance'
AND caution = 'Warm up first. Stop at once if anything hurts. Check the space around you and follow the rules of the place.';
UPDATE drill SET starter_key = 'full-speed-and-back', name = '', purpose = '', how = '', dose = '', watch_for = '', caution = ''
WHERE name = 'Full speed and back'
AND purpose = 'Learn the speed at which the face is still under control'
AND how = 'Alternate one full-speed swing with two at the pace where the strike is best. Say the effort aloud before each.'
AND dose = '4 rounds of 3 balls, twice a week'
AND watch_for = 'The two calm ones staying in the middle right after the fast one'
AND caution = 'Warm up first. Stop at once if anything hurts. Check the space around you and follow the rules of the place. This drill is fast or loads the body: not with a sore back, wrist, elbow, shoulder or knee before a medical professional has agreed; minors only with an adult present.';
UPDATE cue_kind SET label = '' WHERE is_own = 0 AND (key, label) IN (VALUES
  ('tension-face', 'Tension: jaw and face'),
  ('tension-shoulders', 'Tension: shoulders'),
  ('tension-arms', 'Tension: arms'),
  ('tension-hands', 'Tension: hands'),
  ('bracing-firm', 'Lead side firm'),
  ('bracing-late', 'Lead side late'),
  ('bracing-slides', 'Lead side slides past'),
  ('release', 'Release'),
  ('grip', 'Grip'),
  ('stance', 'Stance'),
  ('strike', 'Strike')
);
`,
} as const
