import fs from 'node:fs'
import path from 'node:path'
import v8 from 'node:v8'
import type { FilmReading } from '../../../shared-core/moments/film-reader.ts'
import type { Film } from './film-frames.ts'
import { filmSound } from './film-sound.ts'
import { readMadeFilm } from './judge-film.ts'

export type KeptReading = { reading: FilmReading; sound: ReturnType<typeof filmSound> }

/** What is read of a film's pictures, kept in a folder from run to run where one is given: for finding out, never after the reader changed. */
export const keptReading = (film: Film, folder: string | undefined): KeptReading => {
  const file = folder ? path.join(folder, `${film.spec.seed}.bin`) : null
  const sound = filmSound(film)
  if (file && fs.existsSync(file)) {
    return { ...(v8.deserialize(fs.readFileSync(file)) as { reading: FilmReading }), sound }
  }
  const reading = readMadeFilm(film)
  if (file) fs.writeFileSync(file, v8.serialize({ reading }))
  return { reading, sound }
}
