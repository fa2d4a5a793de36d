/**
 * The six tones of drawings. None of them means good or bad: they only tell drawings apart.
 * Picked by lightness first (CIE L* from about 97 down to 15), so that they stay apart for every kind of colour
 * vision and on a grey print; each has a casing, a wider stroke beneath, that keeps it readable on grass, sky and
 * indoor walls alike. tests/shared-core/drawing/tones.test.ts measures both.
 */
export const tones = {
  chalk: { label: 'Chalk', hex: '#fbf7ee', casing: '#1a1d24' },
  apricot: { label: 'Apricot', hex: '#ffbd8a', casing: '#1a1d24' },
  lagoon: { label: 'Lagoon', hex: '#4cbdd8', casing: '#1a1d24' },
  orchid: { label: 'Orchid', hex: '#b94bac', casing: '#1a1d24' },
  indigo: { label: 'Indigo', hex: '#3f429e', casing: '#fbf7ee' },
  ink: { label: 'Ink', hex: '#1a1d24', casing: '#fbf7ee' },
} as const

/** Every tone that a drawing can have. */
export type ToneName = keyof typeof tones

/** The tones there are to draw in. */
export const toneNames = Object.keys(tones) as [ToneName, ...ToneName[]]
