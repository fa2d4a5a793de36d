/** A cue as it is painted: resolved to words and a frame. */
export interface SceneCue {
  readonly id: string
  /** Shown in the pin, from 1. */
  readonly number: number
  readonly name: string
  readonly strength: number
  /** Source pixels; null if the cue has no place: then it is listed in the corner. */
  readonly at: { readonly x: number; readonly y: number } | null
  readonly note: string
  readonly frame: number
}

/**
 * The cues of a view in the order of their moments, numbered anew on each frame. Cues whose moment is gone are left
 * out; a kind without a name shows its key.
 */
export function sceneCues(view: {
  readonly cues: readonly {
    readonly id: string
    readonly momentId: string
    readonly kind: string
    readonly strength: number
    readonly x: number | null
    readonly y: number | null
    readonly note: string
  }[]
  readonly moments: readonly { readonly id: string; readonly frame: number }[]
  readonly kinds: readonly { readonly key: string; readonly label: string }[]
}): SceneCue[] {
  const frames = new Map(view.moments.map((moment) => [moment.id, moment.frame]))
  const labels = new Map(view.kinds.map((kind) => [kind.key, kind.label]))
  const counted = new Map<number, number>()
  return view.cues
    .flatMap((cue) => {
      const frame = frames.get(cue.momentId)
      return frame === undefined ? [] : [{ cue, frame }]
    })
    .sort((a, b) => a.frame - b.frame)
    .map(({ cue, frame }) => {
      const number = (counted.get(frame) ?? 0) + 1
      counted.set(frame, number)
      return {
        id: cue.id,
        number,
        name: labels.get(cue.kind) ?? cue.kind,
        strength: cue.strength,
        at: cue.x === null || cue.y === null ? null : { x: cue.x, y: cue.y },
        note: cue.note,
        frame,
      }
    })
}
