/** Width and height, pixels. */
export interface Size {
  readonly width: number
  readonly height: number
}

const even = (n: number): number => 2 * Math.max(1, Math.round(n / 2))

/** A clip's size in the hand-over: 4:2:0 wants even numbers, phones no more than 1080 lines. */
export const sizeWithin = (source: Size, maxHeight: number): Size => {
  const longest = maxHeight === 720 ? 1280 : 1920
  const scale = Math.min(
    1,
    maxHeight / Math.min(source.width, source.height),
    longest / Math.max(source.width, source.height),
  )
  return { width: even(source.width * scale), height: even(source.height * scale) }
}

/** How the two pictures of a comparison lie: beside each other, or the second over the first with an opacity. */
export interface PairLayout {
  arrangement: 'beside' | 'over'
  /** Of the second picture over the first. */
  opacity: number
}

/** Where the two pictures of a comparison lie. */
export interface PlacedPair {
  sizes: [Size, Size]
  /** Left upper corner of each. */
  places: [{ x: number; y: number }, { x: number; y: number }]
  width: number
  height: number
}

/** Both as high as the canvas where they fit its width, and in its middle. */
export const placedPair = (
  pair: readonly [Size, Size],
  heightPx: number,
  widthPx: number,
  arrangement: PairLayout['arrangement'],
): PlacedPair => {
  const sizes = pair.map((s) => {
    const scale = Math.min(heightPx / s.height, widthPx / s.width)
    return { width: even(s.width * scale), height: even(s.height * scale) }
  }) as [Size, Size]
  const height = Math.max(...sizes.map((s) => s.height))
  const [first, second] = sizes
  const width = arrangement === 'beside' ? first.width + second.width : Math.max(first.width, second.width)
  const lefts =
    arrangement === 'beside' ? [0, first.width] : sizes.map((s) => Math.floor((width - s.width) / 4) * 2)
  const places = sizes.map((s, i) => ({
    x: lefts[i]!,
    y: Math.floor((height - s.height) / 4) * 2,
  })) as PlacedPair['places']
  return { sizes, places, width, height }
}

/** Where the two pictures of a comparison's clip lie: each within half the width, or both within all of it. */
export const comparisonSizes = (
  pair: readonly [Size, Size],
  maxHeight: number,
  arrangement: PairLayout['arrangement'],
): PlacedPair => {
  if (arrangement === 'over') {
    const alone = pair.map((s) => sizeWithin(s, maxHeight))
    const height = Math.min(...alone.map((s) => s.height))
    return placedPair(pair, height, maxHeight === 720 ? 1280 : 1920, arrangement)
  }
  const [halfWidth, most] = maxHeight === 720 ? [640, 720] : [960, 1080]
  return placedPair(pair, Math.min(most, ...pair.map((s) => s.height)), halfWidth, arrangement)
}
