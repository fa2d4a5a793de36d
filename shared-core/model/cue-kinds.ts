import type { CueKind } from './entities.ts'

const kind = (key: string, group: string, label: string): CueKind => ({ key, group, label, isOwn: false })

/** The cues every library starts with; coaches add their own beside them. Plain trade words. */
export const starterCueKinds: readonly CueKind[] = [
  kind('tension-face', 'tension', 'Tension: jaw and face'),
  kind('tension-shoulders', 'tension', 'Tension: shoulders'),
  kind('tension-arms', 'tension', 'Tension: arms'),
  kind('tension-hands', 'tension', 'Tension: hands'),
  kind('bracing-firm', 'bracing', 'Lead side firm'),
  kind('bracing-late', 'bracing', 'Lead side late'),
  kind('bracing-slides', 'bracing', 'Lead side slides past'),
  kind('release', 'release', 'Release'),
  kind('grip', 'grip', 'Grip'),
  kind('stance', 'stance', 'Stance'),
  kind('strike', 'strike', 'Strike'),
]
