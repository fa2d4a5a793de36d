import path from 'node:path'

/** Where a library's records lie. A file of its own: the window's first process asks for it, and opens no database. */
export const databaseFile = (folder: string): string => path.join(folder, 'library.sqlite')
