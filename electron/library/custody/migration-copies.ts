import fs from 'node:fs'
import path from 'node:path'

/** Copies of the records that were made before a change of their form; backups like any other, until the next good one. */
export const migrationCopies = (library: string): string[] =>
  fs
    .readdirSync(library)
    .filter((name) => /^library\.before-\d+(-\d+)?\.sqlite$/.test(name))
    .map((name) => path.join(library, name))
