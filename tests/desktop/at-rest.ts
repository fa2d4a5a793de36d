import type { Page } from 'playwright-core'

/**
 * Waits until the page has come to rest: its fonts are there, no transition or animation that ends is under way, and for three
 * frames in a row nothing was added, removed, moved or repainted on the Stage.
 */
export const atRest = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    await document.fonts.ready
    let changed = true
    const watch = new MutationObserver(() => (changed = true))
    watch.observe(document, { subtree: true, childList: true, attributes: true, characterData: true })
    const isMoving = () =>
      document.getAnimations().some((animation) => {
        const ends = animation.effect?.getComputedTiming().endTime
        return animation.playState === 'running' && Number.isFinite(Number(ends))
      })
    const end = performance.now() + 10_000
    for (let still = 0; still < 3 && performance.now() < end; still = changed || isMoving() ? 0 : still + 1) {
      changed = false
      await new Promise(requestAnimationFrame)
      await new Promise(requestAnimationFrame)
    }
    watch.disconnect()
  })
