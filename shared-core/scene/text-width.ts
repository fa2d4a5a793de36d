/**
 * Widths of characters in thousandths of the text size, Source Sans 3 SemiBold, read off the font file of
 * @expo-google-fonts/source-sans-3 0.4.1 (advance widths, no kerning). Pure code cannot measure text, and a plate
 * must be as wide in the window as in a still.
 */
const ascii = [
  200, 315, 482, 513, 513, 841, 639, 275, 324, 324, 438, 513, 275, 322, 275, 344, 513, 513, 513, 513, 513,
  513, 513, 513, 513, 513, 275, 275, 513, 513, 513, 444, 875, 558, 597, 576, 625, 538, 510, 628, 663, 282,
  494, 597, 502, 745, 657, 674, 582, 674, 592, 545, 546, 655, 536, 800, 541, 501, 540, 324, 344, 324, 513,
  500, 549, 516, 563, 462, 564, 507, 317, 520, 558, 262, 263, 522, 271, 843, 560, 549, 564, 564, 373, 431,
  361, 556, 495, 748, 481, 495, 443, 324, 255, 324, 513,
]
const latin = [
  200, 315, 513, 513, 513, 513, 255, 513, 549, 747, 352, 455, 513, 0, 443, 549, 348, 513, 372, 372, 549, 578,
  599, 275, 549, 372, 369, 455, 795, 827, 807, 444, 558, 558, 558, 558, 558, 558, 834, 576, 538, 538, 538,
  538, 282, 282, 282, 282, 651, 656, 674, 674, 674, 674, 674, 513, 674, 655, 655, 655, 655, 501, 600, 604,
  516, 516, 516, 516, 516, 516, 780, 462, 507, 507, 507, 507, 262, 262, 262, 262, 552, 560, 549, 549, 549,
  549, 549, 513, 549, 556, 556, 556, 556, 495, 564, 495,
]
const others: Readonly<Record<string, number>> = {
  '–': 480,
  '—': 800,
  '‘': 275,
  '’': 275,
  '“': 482,
  '”': 482,
  '…': 964,
  '•': 325,
  '→': 618,
  '−': 513,
}
/** For a character the table lacks: a full square, so that a plate is rather too wide than too narrow. */
const unknownWidth = 1000

/** The one typeface of window, stills and clips. */
export const fontFamily = 'Source Sans 3'
/** SemiBold, as Konva's fontStyle. */
export const fontStyle = '600'

/** Width of one line of text, in the unit of `sizePx`. */
export function textWidth(text: string, sizePx: number): number {
  let thousandths = 0
  for (const char of text) {
    const code = char.codePointAt(0)!
    thousandths += ascii[code - 32] ?? latin[code - 160] ?? others[char] ?? unknownWidth
  }
  return (thousandths / 1000) * sizePx
}

/** Lines no wider than `maxPx` where words allow it; the text's own line ends stay. */
export function wrapText(text: string, sizePx: number, maxPx: number): string[] {
  const lines: string[] = []
  for (const paragraph of text.split('\n')) {
    let line = ''
    for (const word of paragraph.split(/\s+/).filter((part) => part !== '')) {
      const longer = line === '' ? word : `${line} ${word}`
      if (line !== '' && textWidth(longer, sizePx) > maxPx) {
        lines.push(line)
        line = word
      } else line = longer
    }
    lines.push(line)
  }
  return lines
}
