export type SaveState = 'saved' | 'waiting' | 'saving' | 'failed'

export interface LaterSaver<T> {
  /** Keeps the newest value and saves it after the pause. */
  put(value: T): void
  /** Saves what waits, now. False if it could not be saved; it is kept, and saved with the next try. */
  flush(): Promise<boolean>
}

/**
 * Saves what is typed a moment after the last key. Saves never overtake one another, the newest value always wins, and
 * one that failed is kept until a later try succeeds.
 */
export const laterSaver = <T>(props: {
  save: (value: T) => Promise<unknown>
  waitMs: number
  onState: (state: SaveState) => void
  onProblem: (error: unknown) => void
}): LaterSaver<T> => {
  let waiting: { value: T } | null = null
  let timer: ReturnType<typeof setTimeout> | undefined
  let running: Promise<boolean> | null = null

  const saveAll = async (): Promise<boolean> => {
    while (waiting) {
      const taken: { value: T } = waiting
      waiting = null
      props.onState('saving')
      try {
        await props.save(taken.value)
      } catch (error) {
        waiting ??= taken
        props.onState('failed')
        props.onProblem(error)
        return false
      }
    }
    props.onState('saved')
    return true
  }

  const flush = (): Promise<boolean> => {
    clearTimeout(timer)
    if (running) return running
    if (!waiting) return Promise.resolve(true)
    running = saveAll().finally(() => {
      running = null
    })
    return running
  }

  return {
    put: (value) => {
      waiting = { value }
      clearTimeout(timer)
      timer = setTimeout(() => void flush(), props.waitMs)
      props.onState('waiting')
    },
    flush,
  }
}
