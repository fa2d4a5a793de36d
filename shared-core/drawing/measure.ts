import { said } from '../wording/phrase.ts'

/**
 * What a shape says about the picture. Computed when shown, never stored. `plusMinus` is one sigma from placing the
 * points alone (`placingErrorPx`); depth and the lens come on top and a single picture cannot tell them.
 */
export interface Measure {
  /** Degrees, or metres, or source pixels if there is no scale. */
  readonly value: number
  readonly unit: 'degrees' | 'meters' | 'pixels'
  readonly plusMinus: number
  /** As written beside the shape. */
  readonly text: string
  /** What the number rests on, one sentence for the coach. */
  readonly note: string
  /** The short form of the note for the picture itself; empty if the picture needs none. */
  readonly shortNote: string
}

/** How far off a placed point is, one sigma in x and in y, source pixels. An assumption, common practice. */
export const placingErrorPx = 1

/** What every length in a picture leaves open. */
export const depthNote = said('measure.depth')

/** What every angle in a picture leaves open. */
export const angleNote = said('measure.angle')

/** Degrees without digits the picture does not carry. */
export function degreesText(value: number, plusMinus: number): string {
  return `${value.toFixed(plusMinus < 0.1 ? 1 : 0)}°`
}

const inchesPerMeter = 1 / 0.0254 // exact: international yard and pound agreement of 1959

/** A length in metres as the coach reads it, without digits that the picture does not carry. */
export function lengthText(meters: number, plusMinusM: number, lengths: 'metric' | 'imperial'): string {
  if (lengths === 'imperial') {
    return `${(meters * inchesPerMeter).toFixed(plusMinusM * inchesPerMeter < 0.1 ? 1 : 0)} in`
  }
  if (plusMinusM < 0.001) return `${(meters * 1000).toFixed(0)} mm`
  return meters < 1 ? `${(meters * 100).toFixed(0)} cm` : `${meters.toFixed(2)} m`
}

/** An angle with its note. */
export function angleMeasure(value: number, plusMinus: number, note: string = angleNote): Measure {
  return { value, unit: 'degrees', plusMinus, text: degreesText(value, plusMinus), note, shortNote: '' }
}

/** A length in the picture: metres with a scale, else pixels. */
export function lengthMeasure(
  lengthPx: number,
  picture: { readonly pixelsPerMeter: number | null; readonly lengths: 'metric' | 'imperial' },
): Measure {
  const errorPx = Math.SQRT2 * placingErrorPx
  if (picture.pixelsPerMeter === null) {
    return {
      value: lengthPx,
      unit: 'pixels',
      plusMinus: errorPx,
      text: `${lengthPx.toFixed(0)} px`,
      note: said('measure.noScaleYet', { depth: depthNote }),
      shortNote: said('measure.noScale'),
    }
  }
  const value = lengthPx / picture.pixelsPerMeter
  const plusMinus = errorPx / picture.pixelsPerMeter
  return {
    value,
    unit: 'meters',
    plusMinus,
    text: lengthText(value, plusMinus, picture.lengths),
    note: depthNote,
    shortNote: said('measure.flatView'),
  }
}
