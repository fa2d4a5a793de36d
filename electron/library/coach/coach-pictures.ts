import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import type { CoachPicture } from '../../../shared-core/model/hand-over.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import { phoneOutput } from '../media/phone-output.ts'
import type { LibraryContext } from '../context.ts'
import { makePoster } from '../media/pictures.ts'
import { probeClip } from '../media/probe.ts'
import { runFfmpeg, textFrom, type RunOptions } from '../media/run-ffmpeg.ts'
import { type ProblemKey } from '../../../shared-core/wording/problem-words.ts'

/** Sides of what is kept, pixels: a logo stands small at the head of the page, a drill as wide as the page. */
const longestPx = { logo: 480, drill: 1280 }
type Use = keyof typeof longestPx
/** Larger sources are refused before they are decoded. */
const maxPictureBytes = 30_000_000
const maxPicturePixels = 60_000_000
/** What is kept is made smaller than this. */
const maxSidePx = 4096
/** Decoding a picture of that size, at 16 bits a channel, and making it smaller. */
const limits = { seconds: 120, memoryBytes: 3 * 2 ** 29 }
const maxClipBytes = 400_000_000
const maxClipSeconds = 60
/** A logo without large flat areas is a photograph: a JPEG is a tenth of its size. */
const maxLogoBytes = 150_000

const wrong = (key: Extract<ProblemKey, `bad-picture.${string}`>, file: string) =>
  new Problem(key, { where: path.basename(file) })

/** PNG by its signature (ISO/IEC 15948, 5.2), JPEG by its start of image (ITU-T T.81, B.1.1.3). */
const isPicture = (file: string): boolean => {
  const head = Buffer.alloc(8)
  const handle = fs.openSync(file, 'r')
  try {
    fs.readSync(handle, head, 0, 8, 0)
  } finally {
    fs.closeSync(handle)
  }
  return head.toString('hex') === '89504e470d0a1a0a' || head.toString('hex').startsWith('ffd8ff')
}

const within = (longest: number) =>
  `scale=w='min(iw,${longest})':h='min(ih,${longest})':force_original_aspect_ratio=decrease:flags=bicubic+accurate_rnd`

const sizeOf = async (file: string, options: RunOptions): Promise<{ width: number; height: number }> => {
  const text = await textFrom(
    'doing.picture',
    options.programs.ffprobe.file,
    ['-v', 'error', '-select_streams', 'v:0', '-show_entries', 'stream=width,height', '-of', 'csv=p=0', file],
    { ...options, limits },
  )
  const [width = 0, height = 0] = text.trim().split(',').map(Number)
  return { width, height }
}

/** Decoded and written anew, so that nothing of the source but its pixels is kept: no place, no device. */
const remade = (source: string, target: string, filter: string, options: RunOptions): Promise<void> =>
  runFfmpeg(
    'doing.picture',
    (command) =>
      command
        .input(source)
        .outputOptions(['-map', '0:v:0', '-map_metadata', '-1', '-frames:v', '1', '-vf', filter])
        .outputOptions(
          target.endsWith('.png') ? ['-f', 'image2', '-c:v', 'png'] : ['-q:v', '3', '-f', 'mjpeg'],
        )
        .output(target),
    { ...options, limits },
  )

const takePicture = async (file: string, use: Use, work: string, options: RunOptions) => {
  if (fs.statSync(file).size > maxPictureBytes) {
    throw wrong('bad-picture.fileTooLarge', file)
  }
  const size = await sizeOf(file, options)
  if (!(size.width > 0 && size.height > 0) || size.width * size.height > maxPicturePixels) {
    throw wrong('bad-picture.tooLarge', file)
  }
  const filter = within(longestPx[use])
  if (use === 'logo') {
    const png = path.join(work, 'picture.png')
    await remade(file, png, filter, options)
    if (fs.statSync(png).size <= maxLogoBytes) return { made: png, extension: '.png' }
  }
  const jpeg = path.join(work, 'picture.jpg')
  // JPEG has no see-through: white paper lies beneath.
  const onWhite = `${filter},format=rgba,split[a][b];[a]lutrgb=r=255:g=255:b=255:a=255[w];[w][b]overlay=format=auto,format=yuvj420p`
  await remade(file, jpeg, onWhite, options)
  return { made: jpeg, extension: '.jpg' }
}

const takeClip = async (file: string, work: string, options: RunOptions) => {
  if (fs.statSync(file).size > maxClipBytes) {
    throw wrong('bad-picture.clipTooLarge', file)
  }
  const facts = await probeClip(file, options)
  if (facts.durationSeconds > maxClipSeconds) {
    throw wrong('bad-picture.clipTooLong', file)
  }
  const made = path.join(work, 'clip.mp4')
  await runFfmpeg(
    'doing.drillClip',
    (command) =>
      command
        .input(file)
        .outputOptions(['-map', '0:V:0'])
        .outputOptions([
          '-vf',
          `${within(longestPx.drill)},scale=trunc(iw/2)*2:trunc(ih/2)*2,setsar=1,fps=30`,
        ])
        .outputOptions(phoneOutput(30))
        .output(made),
    options,
  )
  const remadeFacts = await probeClip(made, options)
  const poster = path.join(work, 'poster.jpg')
  await makePoster(made, poster, Math.floor(remadeFacts.frameCount / 2), remadeFacts, options)
  return { made, poster }
}

/**
 * Takes a picture (PNG or JPEG), or for a drill a short clip, into the library.
 * @throws Problem `bad-picture`, `media`, `no-file`
 */
export const addCoachPicture = async (
  context: LibraryContext,
  { file, use }: { file: string; use: Use },
): Promise<CoachPicture> => {
  if (!fs.existsSync(file)) {
    throw new Problem('no-file.path', { where: path.basename(file) })
  }
  if (!fs.statSync(file).isFile()) throw wrong('bad-picture.noFile', file)
  const programs = await context.mediaPrograms()
  const options: RunOptions = { programs, clipName: path.basename(file) }
  const id = randomUUID()
  const work = path.join(context.paths.incoming, `picture-${id}`)
  fs.mkdirSync(work, { recursive: true })
  try {
    const kind = isPicture(file) ? 'picture' : 'clip'
    if (kind === 'clip' && use !== 'drill') {
      throw wrong('bad-picture.logoIsNone', file)
    }
    const taken =
      kind === 'clip'
        ? { ...(await takeClip(file, work, options)), extension: '.mp4' }
        : { ...(await takePicture(file, use, work, options)), poster: null }
    const size = await sizeOf(taken.made, options)
    const byteLength = fs.statSync(taken.made).size
    const picture: CoachPicture = { id, kind, ...size, byteLength }
    if (taken.poster) fs.renameSync(taken.poster, context.paths.coachPicture(id, '.poster.jpg'))
    fs.renameSync(taken.made, context.paths.coachPicture(id, taken.extension))
    context.db
      .insert(t.coachPicture)
      .values({ ...picture, extension: taken.extension, addedAt: context.now().toISOString() })
      .run()
    return picture
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
  }
}

/**
 * Is a file from outside, kept as it is, a picture (or short clip) of this size that can be read?
 * @throws Problem `bad-picture`, `not-a-clip`, `media`
 */
export const assertPicture = async (
  file: string,
  wanted: { kind: CoachPicture['kind']; width: number | null; height: number | null },
  options: RunOptions,
): Promise<void> => {
  if (wanted.kind === 'clip') await probeClip(file, options)
  else if (!isPicture(file)) throw wrong('bad-picture.givenIsNone', file)
  const size = await sizeOf(file, options)
  const isSo = (is: number, was: number | null) => is > 0 && is <= maxSidePx && (was === null || is === was)
  if (isSo(size.width, wanted.width) && isSo(size.height, wanted.height)) return
  throw wrong('bad-picture.givenSize', file)
}

export interface CoachPictureFiles extends CoachPicture {
  file: string
  /** The picture itself, or a clip's poster. */
  still: string
  type: string
}

const types: Record<string, string> = { '.png': 'image/png', '.jpg': 'image/jpeg', '.mp4': 'video/mp4' }

/** A picture with its files; null if it is gone. */
export const coachPictureOf = (
  context: Pick<LibraryContext, 'db' | 'paths'>,
  id: string | null,
): CoachPictureFiles | null => {
  if (id === null) return null
  const row = context.db.select().from(t.coachPicture).where(eq(t.coachPicture.id, id)).get()
  if (!row) return null
  const { extension, addedAt: _addedAt, ...picture } = row
  const file = context.paths.coachPicture(id, extension)
  const still = row.kind === 'clip' ? context.paths.coachPicture(id, '.poster.jpg') : file
  if (!fs.existsSync(file) || !fs.existsSync(still)) return null
  return { ...picture, file, still, type: types[extension] ?? 'application/octet-stream' }
}

const dayMs = 24 * 3600 * 1000

/**
 * Deletes pictures that no setting, drill, plan, hand-over or strike map speaks of any more, nor an undo. One of today
 * may have been chosen a moment ago, and what it is for not saved yet.
 */
export const dropUnusedCoachPictures = ({
  sqlite,
  paths,
  now,
}: Pick<LibraryContext, 'sqlite' | 'paths' | 'now'>): void => {
  sqlite
    .prepare(
      `DELETE FROM coach_picture WHERE added_at < ?
         AND NOT EXISTS (SELECT 1 FROM drill WHERE picture_id = coach_picture.id)
         AND NOT EXISTS (SELECT 1 FROM face_photo WHERE picture_id = coach_picture.id)
         AND NOT EXISTS (SELECT 1 FROM edit_row WHERE table_name = 'face_photo'
           AND instr(coalesce(before, after), coach_picture.id) > 0)
         AND NOT EXISTS (SELECT 1 FROM setting WHERE instr(value, coach_picture.id) > 0)
         AND NOT EXISTS (SELECT 1 FROM plan WHERE instr(items, coach_picture.id) > 0)
         AND NOT EXISTS (SELECT 1 FROM hand_over_draft WHERE instr(draft, coach_picture.id) > 0)`,
    )
    .run(new Date(now().getTime() - dayMs).toISOString())
  const known = new Set(
    (sqlite.prepare('SELECT id FROM coach_picture').all() as { id: string }[]).map((row) => row.id),
  )
  for (const name of fs.readdirSync(paths.coachPictures)) {
    if (!known.has(name.split('.')[0]!)) fs.rmSync(path.join(paths.coachPictures, name), { force: true })
  }
}

/** Pictures of club faces of a lesson, also those that only an undo would bring back. */
export const facePicturesOf = ({ sqlite }: Pick<LibraryContext, 'sqlite'>, lessonId: string): string[] => {
  const rows = sqlite
    .prepare(
      `SELECT picture_id AS id FROM face_photo WHERE lesson_id = ?
       UNION SELECT json_extract(coalesce(r.before, r.after), '$.picture_id') FROM edit_row r
         JOIN edit e ON e.id = r.edit_id WHERE e.lesson_id = ? AND r.table_name = 'face_photo'`,
    )
    .all(lessonId, lessonId) as { id: string | null }[]
  return rows.flatMap(({ id }) => (id === null ? [] : [id]))
}
