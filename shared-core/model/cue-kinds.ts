import type { CueKind } from './entities.ts'

const kind = (key: string, group: string): CueKind => ({ key, group, label: '', isOwn: false })

/**
 * The cues every library starts with, as keys: their names stand in `wording` (`cueKind.…`), and an empty label says so. Coaches
 * name them anew and add their own beside them; both are kept as text.
 */
export const starterCueKinds: readonly CueKind[] = [
  kind('tension-face', 'tension'),
  kind('tension-shoulders', 'tension'),
  kind('tension-arms', 'tension'),
  kind('tension-hands', 'tension'),
  kind('bracing-firm', 'bracing'),
  kind('bracing-late', 'bracing'),
  kind('bracing-slides', 'bracing'),
  kind('release', 'release'),
  kind('grip', 'grip'),
  kind('stance', 'stance'),
  kind('strike', 'strike'),
]
