// The program's icon, drawn by these lines: a plumb line beside a leaning line, the first thing a coach looks at.
import { createCanvas, loadImage } from '@napi-rs/canvas'

const side = 512

/** The icon as SVG, `side` pixels each way. */
export const iconSvg = () =>
  [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${side} ${side}" width="${side}" height="${side}">`,
    '<rect width="512" height="512" rx="104" fill="#1d3b3a"/>',
    '<path d="M176 318 A150 150 0 0 0 281 296" fill="none" stroke="#7fb8ad" stroke-width="18" stroke-linecap="round"/>',
    '<path d="M176 92 L176 330" stroke="#f6f1e4" stroke-width="20" stroke-linecap="round"/>',
    '<path d="M176 330 L212 372 L176 432 L140 372 Z" fill="#f6f1e4"/>',
    '<path d="M176 92 L350 412" stroke="#eda05a" stroke-width="34" stroke-linecap="round"/>',
    '<circle cx="176" cy="92" r="26" fill="#f6f1e4"/>',
    '</svg>',
  ].join('\n')

/** @param {number} px @returns {Promise<Buffer>} */
export async function iconPng(px) {
  const picture = await loadImage(Buffer.from(iconSvg()))
  const canvas = createCanvas(px, px)
  canvas.getContext('2d').drawImage(picture, 0, 0, px, px)
  return canvas.toBuffer('image/png')
}

/** Windows' form: a directory of PNG pictures (Microsoft, "ICO file format": ICONDIR, ICONDIRENTRY). */
export async function iconIco() {
  const sizes = [16, 32, 48, 256]
  const pictures = await Promise.all(sizes.map(iconPng))
  const head = Buffer.alloc(6 + 16 * sizes.length)
  head.writeUInt16LE(1, 2)
  head.writeUInt16LE(sizes.length, 4)
  let offset = head.length
  for (const [index, picture] of pictures.entries()) {
    const at = 6 + 16 * index
    // 0 stands for 256.
    head.writeUInt8(sizes[index] % 256, at)
    head.writeUInt8(sizes[index] % 256, at + 1)
    head.writeUInt16LE(1, at + 4)
    head.writeUInt16LE(32, at + 6)
    head.writeUInt32LE(picture.length, at + 8)
    head.writeUInt32LE(offset, at + 12)
    offset += picture.length
  }
  return Buffer.concat([head, ...pictures])
}

/** macOS's form: typed PNG pictures one after another (types from Apple's icon composer: ic07 128 … ic10 1024). */
export async function iconIcns() {
  const types = { ic07: 128, ic08: 256, ic09: 512, ic10: 1024 }
  const parts = []
  for (const [type, px] of Object.entries(types)) {
    const picture = await iconPng(px)
    const head = Buffer.alloc(8)
    head.write(type, 'ascii')
    head.writeUInt32BE(picture.length + 8, 4)
    parts.push(head, picture)
  }
  const head = Buffer.alloc(8)
  head.write('icns', 'ascii')
  head.writeUInt32BE(8 + parts.reduce((sum, part) => sum + part.length, 0), 4)
  return Buffer.concat([head, ...parts])
}
