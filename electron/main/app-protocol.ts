import { readFile } from 'node:fs/promises'
import path from 'node:path'
import { protocol } from 'electron'

/** Where the window's page lives; a scheme of its own, so that it has an origin (a file has none). */
export const pageOrigin = 'app://leadside'

const policy = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  // The preview is the student's page in a frame (srcdoc), which is held to this policy: its one style element is inline.
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' media: data: blob:",
  'media-src media: blob:',
  "connect-src 'self' media: blob: data:",
  "worker-src 'self' blob:",
  "frame-src 'self' blob: data:",
  "font-src 'self' data:",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.ttf': 'font/ttf',
}

/** Serves the built page; a path that leaves its folder, or is none of the page's kinds, is answered with 404. */
export const servePage = () => {
  const root = path.join(import.meta.dirname, '../renderer')
  protocol.handle('app', async (request) => {
    const { host, pathname } = new URL(request.url)
    const file = path.normalize(path.join(root, decodeURIComponent(pathname)))
    const type = types[path.extname(file)]
    if (host !== 'leadside' || !file.startsWith(root + path.sep) || !type) {
      return new Response(null, { status: 404 })
    }
    // Read here: the browser's own way to files starts services that nothing else needs at the start.
    const bytes = await readFile(file).catch(() => null)
    if (!bytes) return new Response(null, { status: 404 })
    return new Response(bytes, { headers: { 'Content-Type': type, 'Content-Security-Policy': policy } })
  })
}
