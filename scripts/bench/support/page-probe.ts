import type { Page } from 'playwright-core'

/** One picture that was painted on the Stage. Times in milliseconds of the page's own clock. */
export interface Painted {
  atMs: number
  /** The animation frame after it, when it goes to the screen. */
  shownAtMs: number
  frame: number
  clipId: string
}

/** One key press or pointer press or move, with the time the browser stamped on it. */
export interface Input {
  kind: string
  atMs: number
  x: number
}

interface Probe {
  inputs: Input[]
  painted: Painted[]
}

/**
 * Watches the page from inside: every key and pointer event with its own time stamp, and every change of `data-frame`
 * on a Stage canvas, which the program sets right after painting.
 */
export const installProbe = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const probe: Probe = { inputs: [], painted: [] }
    ;(globalThis as unknown as { benchProbe: Probe }).benchProbe = probe
    for (const kind of ['keydown', 'pointerdown', 'pointermove']) {
      addEventListener(
        kind,
        (event) =>
          probe.inputs.push({
            kind,
            atMs: event.timeStamp,
            x: event instanceof PointerEvent ? event.clientX : 0,
          }),
        { capture: true },
      )
    }
    new MutationObserver((changes) => {
      const atMs = performance.now()
      for (const { target } of changes) {
        const { frame, clip } = (target as HTMLElement).dataset
        if (frame === undefined) continue
        const painted: Painted = { atMs, shownAtMs: Number.NaN, frame: Number(frame), clipId: clip ?? '' }
        probe.painted.push(painted)
        requestAnimationFrame(() => (painted.shownAtMs = performance.now()))
      }
    }).observe(document.body, { subtree: true, attributes: true, attributeFilter: ['data-frame'] })
  })

/** Forgets what was seen so far. */
export const clearProbe = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const { benchProbe } = globalThis as unknown as { benchProbe: Probe }
    benchProbe.inputs.length = 0
    benchProbe.painted.length = 0
  })

export const readProbe = (page: Page): Promise<Probe> =>
  page.evaluate(() => (globalThis as unknown as { benchProbe: Probe }).benchProbe)

/**
 * Waits, in the page, for a picture painted since the probe was cleared (of one frame or clip if named) and the
 * animation frame after it. Null if none came within the time given.
 */
export const waitForPicture = (
  page: Page,
  wanted: { frame?: number; clipId?: string } = {},
  withinMs = 20_000,
): Promise<Painted | null> =>
  page.evaluate(
    async ({ frame, clipId, withinMs: patience }) => {
      const { benchProbe } = globalThis as unknown as { benchProbe: Probe }
      const until = performance.now() + patience
      for (;;) {
        const found = benchProbe.painted.find(
          (p) =>
            (frame === undefined || p.frame === frame) &&
            (clipId === undefined || p.clipId === clipId) &&
            Number.isFinite(p.shownAtMs),
        )
        if (found) return found
        if (performance.now() > until) return null
        await new Promise((resolve) => setTimeout(resolve, 2))
      }
    },
    { ...wanted, withinMs },
  )
