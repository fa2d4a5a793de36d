import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { net, protocol } from 'electron'

/** Where the window's page lives; a scheme of its own, so that it has an origin (a file has none). */
export const pageOrigin = 'app://leadside'

const policy = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' media: data: blob:",
  'media-src media: blob:',
  "connect-src 'self' media: blob: data:",
  "worker-src 'self' blob:",
  "frame-src 'self' blob: data:",
  "font-src 'self' data:",
].join('; ')

/** Serves the built page; a path that leaves its folder is answered with 404. */
export const servePage = () => {
  const root = path.join(import.meta.dirname, '../renderer')
  protocol.handle('app', async (request) => {
    const { host, pathname } = new URL(request.url)
    const file = path.normalize(path.join(root, decodeURIComponent(pathname)))
    if (host !== 'leadside' || !file.startsWith(root + path.sep)) return new Response(null, { status: 404 })
    const response = await net.fetch(pathToFileURL(file).href).catch(() => null)
    if (!response) return new Response(null, { status: 404 })
    const headers = new Headers(response.headers)
    headers.set('Content-Security-Policy', policy)
    return new Response(response.body, { status: response.status, headers })
  })
}
