import type { Drill } from './hand-over.ts'

const commonCaution =
  'Warm up first. Stop at once if anything hurts. Check the space around you and follow the rules of the place.'
const loadingCaution = `${commonCaution} This drill is fast or loads the body: not with a sore back, wrist, elbow, shoulder or knee before a medical professional has agreed; minors only with an adult present.`

/** Drills in plain trade knowledge (common practice, no source); the coach edits them freely. */
export const starterDrills: readonly Omit<Drill, 'id' | 'pictureId'>[] = [
  {
    name: 'Relaxed-shoulder swishes',
    purpose: 'Softer shoulders and arms, so that speed comes late',
    cueKinds: ['tension-shoulders', 'tension-arms', 'tension-hands'],
    how: 'Hold a club by the head end. Let the shoulders drop on a long breath out. Swing at half effort and listen: the swish should be loudest just past where the ball would be.',
    dose: '3 sets of 6, a breath between swings, 4 days a week',
    watchFor: 'The loudest part moving forward; jaw loose; grip no firmer at the end than at the start',
    caution: commonCaution,
    isLoading: false,
  },
  {
    name: 'Light-stick speed swings',
    purpose: 'More club speed once the strike holds',
    cueKinds: ['release'],
    how: 'With a light stick and no ball, swing at an easy pace three times, then three times as fast as balance allows. Finish still on the lead foot each time.',
    dose: '2 sets of 3 easy + 3 fast, two days a week with a rest day between; no more than this for the first three weeks',
    watchFor: 'Balance at the finish; no swing faster than one you can hold',
    caution: loadingCaution,
    isLoading: true,
  },
  {
    name: 'Brace against a pull',
    purpose: 'A firm lead side before impact',
    cueKinds: ['bracing-firm', 'bracing-late', 'bracing-slides'],
    how: 'Fix a light elastic band at hip height on the trail side and step into it. From the top, move slowly to the impact position and let the lead leg take the pull without the hip sliding past the foot. Hold two seconds.',
    dose: '2 sets of 8 slow ones, 3 days a week',
    watchFor: 'Lead hip over the lead foot; the knee firm, not locked',
    caution: loadingCaution,
    isLoading: true,
  },
  {
    name: 'Centre-strike ladder',
    purpose: 'Strike before speed',
    cueKinds: ['strike', 'stance'],
    how: 'Put a little foot spray on the face. Hit three balls at half speed; if all three marks are within a coin of the middle, go up one step of effort, else go down one.',
    dose: '15 to 20 balls, twice a week; note the highest step held',
    watchFor: 'The marks, not the distance',
    caution: commonCaution,
    isLoading: false,
  },
  {
    name: 'Full speed and back',
    purpose: 'Learn the speed at which the face is still under control',
    cueKinds: ['strike', 'release', 'grip'],
    how: 'Alternate one full-speed swing with two at the pace where the strike is best. Say the effort aloud before each.',
    dose: '4 rounds of 3 balls, twice a week',
    watchFor: 'The two calm ones staying in the middle right after the fast one',
    caution: loadingCaution,
    isLoading: true,
  },
]
