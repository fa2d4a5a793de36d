import { createHash, randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import * as t from '../../../electron/library/database/schema.ts'
import { Library } from '../../../electron/library/library.ts'
import { writeFastClip } from './fast-clip.ts'
import { inventedLessons } from './invented-lessons.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export interface LargeLibrary {
  /** Lessons of all students together. */
  lessons: number
  students: number
  /** Swings in the newest lesson, each with a clip and a shot. */
  swingsOfNewest: number
  /** Swings in every other lesson. */
  swingsOfOthers: number
}

/**
 * Fills a new library: one clip is really taken in; every other one is a row of its own with files of its own that are
 * hard links to those of the first. Rows are written through the journal, as the program writes them, with its undo.
 * @returns how many clips there are and the id of the newest lesson, which is the longest one
 */
export const fillLargeLibrary = async (
  folder: string,
  ffmpeg: string,
  size: LargeLibrary,
): Promise<{ clips: number; newestLessonId: string }> => {
  const library = new Library({ folder })
  try {
    const { db, sqlite, journal, paths } = library.context
    const studentIds: string[] = []
    for (let i = 0; i < size.students; i++) {
      const student = await library.ask('student.create', {
        name: `Student ${String(i + 1).padStart(3, '0')}`,
        side: 'right',
      })
      studentIds.push(student.id)
    }
    const clipFile = path.join(folder, 'incoming', 'first.mp4')
    writeFastClip(ffmpeg, clipFile, 1)
    const newest = await library.ask('lesson.create', {
      studentId: studentIds[0]!,
      date: '2026-06-30',
      title: 'The longest',
    })
    const { jobIds } = await library.ask('clips.add', { lessonId: newest.id, files: [clipFile] })
    const job = await library.context.jobs.ended(jobIds[0]!)
    if (job.state !== 'done') throw new Error(`the clip was not taken in: ${job.problem?.what ?? job.state}`)
    // Its working copy too, or it would be made while something else is measured.
    await library.context.jobs.idle()
    const clip = db.select().from(t.clip).where(eq(t.clip.lessonId, newest.id)).get()!
    const media = db.select().from(t.media).where(eq(t.media.hash, clip.mediaHash)).get()!
    const firstSwing = db.select().from(t.swing).where(eq(t.swing.lessonId, newest.id)).get()!
    const view = db.select().from(t.view).where(eq(t.view.swingId, firstSwing.id)).get()!
    const moments = db.select().from(t.moment).where(eq(t.moment.viewId, view.id)).all()
    const frames = { setup: 40, takeaway: 120, top: 280, brace: 330, impact: 360, release: 380, finish: 480 }

    let clips = 1
    const addSwing = (lessonId: string, blockId: string, position: number, shotId: string) => {
      clips += 1
      const hash = createHash('sha256').update(`clip ${clips}`).digest('hex')
      fs.linkSync(paths.original(media.hash, media.extension), paths.original(hash, media.extension))
      if (media.hasProxy) fs.linkSync(paths.proxy(media.hash), paths.proxy(hash))
      fs.linkSync(paths.poster(media.hash), paths.poster(hash))
      fs.linkSync(paths.strip(media.hash), paths.strip(hash))
      db.insert(t.media)
        .values({ ...media, hash })
        .run()
      const clipId = randomUUID()
      db.insert(t.clip)
        .values({ ...clip, id: clipId, lessonId, mediaHash: hash, fileName: `clip-${clips}.mp4` })
        .run()
      const swingId = randomUUID()
      db.insert(t.swing)
        .values({
          ...firstSwing,
          id: swingId,
          lessonId,
          blockId,
          position,
          shotId,
          pairConfidence: 0.9,
          pairHow: 'clock',
        })
        .run()
      const viewId = randomUUID()
      db.insert(t.view)
        .values({ ...view, id: viewId, swingId, clipId })
        .run()
      Object.entries(frames).forEach(([name, frame], i) => {
        const id = randomUUID()
        db.insert(t.moment)
          .values({ id, viewId, name, frame, how: 'sound+motion', confidence: 0.8, isConfirmed: i % 2 === 0 })
          .run()
        if (name === 'impact') {
          db.insert(t.cue).values({ id: randomUUID(), momentId: id, kind: 'brace-late', strength: 2 }).run()
        }
      })
    }
    const fill = (lessonId: string, swings: number) => {
      const [shots] = inventedLessons({
        lessons: 1,
        shotsPerLesson: swings,
        blocksPerLesson: 4,
        isRounded: true,
      })
      let position = 0
      journal.run({ lessonId, label: phrase('edit.addFile', { file: 'clips' }) }, () => {
        shots!.blocks.forEach((block, b) => {
          const blockId = randomUUID()
          db.insert(t.block)
            .values({ id: blockId, lessonId, position: b + 1, name: block.label, isBaseline: b === 0 })
            .run()
          for (const {
            id: _id,
            cues: _cues,
            withheld: _withheld,
            assumed: _assumed,
            ...shot
          } of block.shots) {
            const shotId = randomUUID()
            position += 1
            db.insert(t.shot)
              .values({
                ...shot,
                id: shotId,
                lessonId,
                fileName: 'shots.csv',
                line: position,
                position,
                fingerprint: shotId,
                flags: [],
                other: {},
              })
              .run()
            addSwing(lessonId, blockId, position, shotId)
          }
        })
      })
    }
    // The clip taken in stays as the newest lesson's last swing.
    fill(newest.id, size.swingsOfNewest)
    if (moments.length === 0) console.error('no moment was found in the clip; the others have seven each')
    sqlite.pragma('synchronous = OFF')
    for (let i = 1; i < size.lessons; i++) {
      const date = new Date(Date.UTC(2026, 5, 29) - i * 86_400_000).toISOString().slice(0, 10)
      const { id } = await library.ask('lesson.create', {
        studentId: studentIds[i % size.students]!,
        date,
        title: `Lesson ${i}`,
      })
      fill(id, size.swingsOfOthers)
    }
    return { clips, newestLessonId: newest.id }
  } finally {
    await library.close()
  }
}
