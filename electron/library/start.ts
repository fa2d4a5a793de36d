import module from 'node:module'

/**
 * The library process begins here: what V8 made of its code last time is kept in the window's own folder and used again, which
 * spares a quarter of the time until it answers. Without a folder, or where it can't be written, the code is compiled anew.
 */
const folder = process.env['LEADSIDE_CODE_CACHE']
if (folder) module.enableCompileCache(folder)
await import('./process.ts')
