import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { decodeText } from '../../../shared-core/shots/decode-text.ts'

const utf8 = (text: string) => new TextEncoder().encode(text)
const utf16 = (text: string, order: 'little' | 'big') => {
  const bytes = new Uint8Array(text.length * 2)
  const view = new DataView(bytes.buffer)
  for (let i = 0; i < text.length; i++) view.setUint16(2 * i, text.charCodeAt(i), order === 'little')
  return bytes
}
const marked = (mark: number[], bytes: Uint8Array) => Uint8Array.from([...mark, ...bytes])
const wellFormed = fc
  .string({ unit: 'binary', maxLength: 60 })
  .filter((s) => !/[\0-\x08\x0b-\x1f\x7f\ufeff]/.test(s))
const table = 'Schläger;Ballgeschwindigkeit (km/h)\nEisen 7;165,2\nSW 56°;120\n'

describe('decodeText', () => {
  test('reads every UTF-8 text as the platform decoder does', () => {
    fc.assert(
      fc.property(wellFormed, (text) => {
        const bytes = utf8(`shots,${text}`)
        expect(decodeText(bytes)).toEqual({ text: new TextDecoder('utf-8').decode(bytes), encoding: 'utf-8' })
      }),
    )
  })

  test('replaces broken sequences after a UTF-8 mark exactly as the platform decoder does', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 40 }), (bytes) => {
        const file = marked([0xef, 0xbb, 0xbf], bytes)
        fc.pre(!(bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf))
        expect(decodeText(file).text).toBe(new TextDecoder('utf-8').decode(file))
      }),
      { numRuns: 1000 },
    )
  })

  test('reads every byte of Windows-1252 as the platform decoder does', () => {
    const bytes = Uint8Array.from([...utf8('club;note\n'), ...Array.from({ length: 128 }, (_, i) => 128 + i)])
    expect(decodeText(bytes)).toEqual({
      text: new TextDecoder('windows-1252').decode(bytes),
      encoding: 'windows-1252',
    })
  })

  test('tells the common encodings of one table apart, with and without a mark', () => {
    const latin = Uint8Array.from(table, (c) => c.charCodeAt(0))
    expect(decodeText(utf8(table))).toEqual({ text: table, encoding: 'utf-8' })
    expect(decodeText(marked([0xef, 0xbb, 0xbf], utf8(table)))).toEqual({ text: table, encoding: 'utf-8' })
    expect(decodeText(latin)).toEqual({ text: table, encoding: 'windows-1252' })
    expect(decodeText(utf16(table, 'little'))).toEqual({ text: table, encoding: 'utf-16le' })
    expect(decodeText(utf16(table, 'big'))).toEqual({ text: table, encoding: 'utf-16be' })
    expect(decodeText(marked([0xff, 0xfe], utf16(table, 'little')))).toEqual({
      text: table,
      encoding: 'utf-16le',
    })
    expect(decodeText(marked([0xfe, 0xff], utf16(table, 'big')))).toEqual({
      text: table,
      encoding: 'utf-16be',
    })
  })

  test('keeps UTF-16 surrogate pairs, as the platform decoder does', () => {
    fc.assert(
      fc.property(wellFormed, (text) => {
        const bytes = marked([0xff, 0xfe], utf16(text, 'little'))
        expect(decodeText(bytes).text).toBe(new TextDecoder('utf-16le').decode(bytes))
      }),
    )
  })

  test('a UTF-8 file cut off inside a letter is still UTF-8', () => {
    expect(decodeText(utf8(table).subarray(0, 5)).encoding).toBe('utf-8')
  })

  test('a spreadsheet file and a binary file are refused with what to do', () => {
    for (const start of [
      [0x50, 0x4b, 3, 4],
      [0xd0, 0xcf, 0x11, 0xe0],
      [0x25, 0x50, 0x44, 0x46],
      [0, 0, 0, 0x18, 0x66, 0x74, 0x79, 0x70, 0, 0, 2, 0, 1, 3, 5],
    ]) {
      expect(() => decodeText(Uint8Array.from([...start, 1, 0, 7, 0, 0, 3]))).toThrow(
        expect.objectContaining({
          name: 'Problem',
          code: 'shots-binary',
          toDo: expect.stringMatching(/CSV/),
        }),
      )
    }
  })
})
