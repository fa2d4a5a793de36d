import type { Drill } from './hand-over.ts'

/** Keys of the starter drills, in the order of `starterDrills`. */
export const starterDrillKeys = [
  'soft-shoulder-swishes',
  'light-stick-speed',
  'brace-against-pull',
  'centre-strike-ladder',
  'full-speed-and-back',
] as const
/** A drill that every library starts with. */
export type StarterDrillKey = (typeof starterDrillKeys)[number]

/**
 * Drills in plain trade knowledge (common practice, no source), as keys: their words stand in `wording/starter-texts.ts`. The
 * coach edits them freely; what is edited is the coach's own text.
 */
export const starterDrills: readonly ({ key: StarterDrillKey } & Pick<Drill, 'cueKinds' | 'isLoading'>)[] = [
  {
    key: 'soft-shoulder-swishes',
    cueKinds: ['tension-shoulders', 'tension-arms', 'tension-hands'],
    isLoading: false,
  },
  { key: 'light-stick-speed', cueKinds: ['release'], isLoading: true },
  {
    key: 'brace-against-pull',
    cueKinds: ['bracing-firm', 'bracing-late', 'bracing-slides'],
    isLoading: true,
  },
  { key: 'centre-strike-ladder', cueKinds: ['strike', 'stance'], isLoading: false },
  { key: 'full-speed-and-back', cueKinds: ['strike', 'release', 'grip'], isLoading: true },
]
