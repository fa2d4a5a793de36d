/** Paper of the student's page on a light and on a dark screen. */
export const pageGrounds = { light: '#fbfaf6', dark: '#14181b' } as const

/** The colour of a page whose coach has chosen none. */
export const usualAccent = '#2f7f79'

/** Lines and rules that carry meaning: WCAG 2.2, success criterion 1.4.11 (non-text contrast). */
export const minContrast = 3

/** Whether a text is a colour as #rrggbb. */
export const isColour = (text: string): boolean => /^#[0-9a-f]{6}$/i.test(text)

const channels = (colour: string): [number, number, number] => [
  Number.parseInt(colour.slice(1, 3), 16),
  Number.parseInt(colour.slice(3, 5), 16),
  Number.parseInt(colour.slice(5, 7), 16),
]

/** WCAG 2.2, "relative luminance", of an sRGB colour `#rrggbb`. */
const luminance = (colour: string): number => {
  const [r, g, b] = channels(colour).map((byte) => {
    const share = byte / 255
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
}

/** WCAG 2.2, "contrast ratio": 1 to 21. */
export const contrastRatio = (one: string, other: string): number => {
  const [light, dark] = [luminance(one), luminance(other)].toSorted((a, b) => b - a)
  return (light! + 0.05) / (dark! + 0.05)
}

const mixed = (colour: string, into: number, share: number): string =>
  `#${channels(colour)
    .map((byte) =>
      Math.round(byte + (into - byte) * share)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`

/** The colour itself if its lines can be seen on this ground, else the nearest darker or lighter one that can. */
export const accentOn = (colour: string, ground: string): string => {
  const into = luminance(ground) > 0.18 ? 0 : 255
  for (let share = 0; share < 1; share += 0.02) {
    const candidate = mixed(colour, into, share)
    if (contrastRatio(candidate, ground) >= minContrast) return candidate
  }
  return mixed(colour, into, 1)
}
