import { Problem } from '../problem.ts'
import { phrase } from '../wording/phrase.ts'

/** The encodings that files of shots come in. */
export type TextEncodingName = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252'

/**
 * Bytes of a text file as text, without a byte order mark.
 *
 * A decoder of our own because shared-core may use neither Node nor the DOM, and TextDecoder belongs to
 * those, not to the language; tests compare it with TextDecoder. Order of the tests: byte order mark; the
 * pattern of zero bytes that UTF-16 leaves in mostly Latin text; valid UTF-8; else Windows-1252 (what older
 * spreadsheets write in Western Europe and America). A few broken sequences in otherwise plain UTF-8 become
 * U+FFFD.
 *
 * @throws Problem `shots-binary` when the bytes are no text (a spreadsheet file, a picture, a video).
 */
export const decodeText = (bytes: Uint8Array): { text: string; encoding: TextEncodingName } => {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) {
    return { text: decodeUtf8(bytes.subarray(3)).text, encoding: 'utf-8' }
  }
  if (bytes[0] === 0xff && bytes[1] === 0xfe) {
    return { text: decodeUtf16(bytes.subarray(2), 'little'), encoding: 'utf-16le' }
  }
  if (bytes[0] === 0xfe && bytes[1] === 0xff) {
    return { text: decodeUtf16(bytes.subarray(2), 'big'), encoding: 'utf-16be' }
  }

  if (startsWith(bytes, [0x50, 0x4b, 0x03, 0x04])) throw spreadsheet('file.zipped')
  if (startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0])) throw spreadsheet('file.oldSpreadsheet')
  if (startsWith(bytes, [0x25, 0x50, 0x44, 0x46])) throw spreadsheet('file.pdf')

  const order = utf16Order(bytes)
  if (order) {
    const text = decodeUtf16(bytes, order)
    assertText(text)
    return { text, encoding: order === 'little' ? 'utf-16le' : 'utf-16be' }
  }
  const utf8 = decodeUtf8(bytes)
  const isUtf8 = utf8.broken === 0 || utf8.broken * 10 <= utf8.sequences
  const text = isUtf8 ? utf8.text : decodeWindows1252(bytes)
  assertText(text)
  return { text, encoding: isUtf8 ? 'utf-8' : 'windows-1252' }
}

/** @throws Problem `shots-binary` when the text holds control characters that no text file holds. */
export const assertText = (text: string): void => {
  let controls = 0
  const length = Math.min(text.length, 65_536)
  for (let i = 0; i < length; i++) {
    const code = text.charCodeAt(i)
    if (code < 32 && code !== 9 && code !== 10 && code !== 13 && code !== 12) controls++
  }
  if (controls > Math.max(2, length / 200)) {
    throw new Problem('shots-binary.noText')
  }
}

const spreadsheet = (kind: 'file.zipped' | 'file.oldSpreadsheet' | 'file.pdf') =>
  new Problem('shots-binary.other', { kind: phrase(kind) })

const startsWith = (bytes: Uint8Array, start: readonly number[]) => start.every((b, i) => bytes[i] === b)

/** Byte order of UTF-16 without a mark, from where its zero bytes fall; null if this isn't UTF-16. */
const utf16Order = (bytes: Uint8Array): 'little' | 'big' | null => {
  const pairs = Math.floor(Math.min(bytes.length, 4096) / 2)
  if (pairs === 0 || bytes.length % 2 !== 0) return null
  let evenZeros = 0
  let oddZeros = 0
  for (let i = 0; i < pairs; i++) {
    if (bytes[2 * i] === 0) evenZeros++
    if (bytes[2 * i + 1] === 0) oddZeros++
  }
  // Tables are digits, delimiters and Latin letters: nearly every high byte is zero, no low byte is.
  if (oddZeros > 0.6 * pairs && evenZeros < 0.02 * pairs) return 'little'
  if (evenZeros > 0.6 * pairs && oddZeros < 0.02 * pairs) return 'big'
  return null
}

/** Joins pieces so that long files don't make one huge argument list. */
const textBuilder = () => {
  const parts: string[] = []
  let units: number[] = []
  return {
    add(code: number) {
      units.push(code)
      if (units.length >= 8192) {
        parts.push(String.fromCodePoint(...units))
        units = []
      }
    },
    text: () => parts.join('') + String.fromCodePoint(...units),
  }
}

const replacement = 0xfffd

const decodeUtf16 = (bytes: Uint8Array, order: 'little' | 'big'): string => {
  const out = textBuilder()
  const [low, high] = order === 'little' ? [0, 1] : [1, 0]
  const unitAt = (i: number) => bytes[i + low]! | (bytes[i + high]! << 8)
  let i = 0
  for (; i + 1 < bytes.length; i += 2) {
    const unit = unitAt(i)
    if (unit < 0xd800 || unit > 0xdfff) out.add(unit)
    else {
      const next = unit < 0xdc00 && i + 3 < bytes.length ? unitAt(i + 2) : 0
      if (next >= 0xdc00 && next <= 0xdfff) {
        out.add(0x10000 + ((unit - 0xd800) << 10) + (next - 0xdc00))
        i += 2
      } else out.add(replacement)
    }
  }
  if (i < bytes.length) out.add(replacement)
  return out.text()
}

/** UTF-8 after the Unicode Standard, table 3-7 (well-formed byte sequences). */
const decodeUtf8 = (bytes: Uint8Array): { text: string; sequences: number; broken: number } => {
  const out = textBuilder()
  let sequences = 0
  let broken = 0
  for (let i = 0; i < bytes.length;) {
    const first = bytes[i]!
    if (first < 0x80) {
      out.add(first)
      i++
      continue
    }
    const more =
      first >= 0xc2 && first <= 0xdf
        ? 1
        : first >= 0xe0 && first <= 0xef
          ? 2
          : first >= 0xf0 && first <= 0xf4
            ? 3
            : 0
    let code = more === 1 ? first & 0x1f : more === 2 ? first & 0x0f : first & 0x07
    let read = 0
    while (read < more) {
      const byte = bytes[i + 1 + read]
      const least = read === 0 ? (first === 0xe0 ? 0xa0 : first === 0xf0 ? 0x90 : 0x80) : 0x80
      const most = read === 0 ? (first === 0xed ? 0x9f : first === 0xf4 ? 0x8f : 0xbf) : 0xbf
      if (byte === undefined || byte < least || byte > most) break
      code = (code << 6) | (byte & 0x3f)
      read++
    }
    if (more > 0 && read === more) {
      out.add(code)
      sequences++
    } else {
      out.add(replacement)
      // A sequence cut off by the end of the file says nothing against UTF-8.
      if (!(more > 0 && i + 1 + read >= bytes.length)) broken++
    }
    i += 1 + read
  }
  return { text: out.text(), sequences, broken }
}

/** 0x80 to 0x9F of Windows-1252; the five unassigned bytes map to themselves (WHATWG Encoding Standard, index windows-1252). */
const windows1252High = [
  0x20ac, 0x81, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8d,
  0x017d, 0x8f, 0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a,
  0x0153, 0x9d, 0x017e, 0x0178,
]

const decodeWindows1252 = (bytes: Uint8Array): string => {
  const out = textBuilder()
  for (const byte of bytes) out.add(byte >= 0x80 && byte <= 0x9f ? windows1252High[byte - 0x80]! : byte)
  return out.text()
}
