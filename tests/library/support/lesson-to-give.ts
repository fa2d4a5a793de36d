import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import * as t from '../../../electron/library/database/schema.ts'
import type { Library } from '../../../electron/library/library.ts'
import { jointCount } from '../../../shared-core/body/joints.ts'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { runFfmpegNow } from './make-clip.ts'
import { lessonWithDrawing } from './lesson-with-drawing.ts'

const csv = `Shot,Club,Club Speed (mph),Ball Speed (mph),Carry (yd),Player
1,7i,82.1,110.3,152,someone
2,7i,81.4,109.9,151,someone
3,7i,83.0,112.0,155,someone
`

/** Two lessons of one student with one of everything that a lesson can hold, and a bystander. */
export const lessonsToGive = async () => {
  const made = await lessonWithDrawing({ seconds: 0.6, hasConsent: true })
  const { library, folder, lessonId, studentId, views } = made
  const shots = path.join(folder, 'shots.csv')
  fs.writeFileSync(shots, csv)
  await library.ask('shots.add', { lessonId, file: shots })
  await library.ask('student.update', {
    id: studentId,
    patch: { limits: 'sore left knee', note: 'private: pays late', isMinor: false },
  })
  await library.ask('lesson.update', {
    id: lessonId,
    patch: {
      note: 'private: said too much',
      nextFocus: 'softer shoulders',
      place: 'Bay 3',
      air: { temperatureC: 21 },
    },
  })
  await library.ask('cueKind.save', { key: 'sway', group: 'body', label: 'Sways back' })
  const { swings, blocks } = await library.ask('lesson.open', { lessonId })
  await library.ask('block.update', {
    id: blocks[0]!.id,
    patch: { note: 'private: cold hands', focus: 'as usual' },
  })
  await library.ask('swing.update', { ids: [swings[0]!.id], patch: { note: 'the best one', didAsked: true } })
  const { id: topId } = await library.ask('moment.place', { viewId: views[0]!, name: 'top', frame: 12 })
  for (const [kind, strength] of [
    ['sway', 2],
    ['grip', 1],
  ] as const) {
    await library.ask('cue.add', { momentId: topId, kind, strength, x: 40, y: 50.5, note: `${kind} & <b>` })
  }
  await library.ask('drawing.add', {
    viewId: views[0]!,
    momentId: null,
    fromFrame: 3,
    toFrame: 20,
    shape: shapes.arrow.create(
      [
        { x: 10, y: 10 },
        { x: 90, y: 60 },
      ],
      { tone: 'chalk', widthPx: 3, isDashed: true },
    ),
  })
  const png = path.join(folder, 'face.png')
  runFfmpegNow('-f', 'lavfi', '-i', 'testsrc2=size=200x120:duration=0.1:rate=10', '-frames:v', '1', png)
  const picture = await library.ask('coachPicture.add', { file: png, use: 'drill' })
  // As it was kept before there were still pictures.
  library.context.db
    .insert(t.facePhoto)
    .values({
      ...{ id: randomUUID(), lessonId, club: '7i', pictureId: picture.id },
      ...{ width: picture.width, height: picture.height },
      ...{ toeX: 10, toeY: 20, heelX: 150, heelY: 22, lengthMm: 80 },
    })
    .run()
  const otherPng = path.join(folder, 'drill.png')
  runFfmpegNow('-f', 'lavfi', '-i', 'testsrc=size=160x90:duration=0.1:rate=10', '-frames:v', '1', otherPng)
  const drillPicture = await library.ask('coachPicture.add', { file: otherPng, use: 'drill' })
  await library.ask('plan.save', {
    lessonId,
    note: 'three times a week',
    outcome: '',
    items: [
      {
        drillId: null,
        name: 'Swishes',
        how: 'softly',
        dose: '3 × 6',
        watchFor: 'jaw',
        caution: 'stop if it hurts',
        isLoading: true,
        pictureId: drillPicture.id,
        despite: { limits: 'sore left knee', isMinor: false, at: '2026-05-01T10:00:00.000Z' },
      },
    ],
  })
  const { clips } = await library.ask('lesson.open', { lessonId })
  const frames = Int32Array.from([2, 3, 5])
  const points = Float32Array.from({ length: frames.length * jointCount * 3 }, (_, i) =>
    i % 3 === 2 ? 0.9 : i,
  )
  library.context.db
    .insert(t.bodyPoints)
    .values({
      mediaHash: clips[0]!.hash,
      model: 'a model',
      frames: Buffer.from(frames.buffer),
      points: Buffer.from(points.buffer),
      readAt: '2026-05-01T10:00:00.000Z',
    })
    .run()
  await library.ask('body.correct', { clipId: clips[0]!.id, frame: 3, joint: 'leftHip', x: 111, y: 99 })
  // A second lesson, whose comparison shows the first one.
  const { id: secondId } = await library.ask('lesson.create', {
    studentId,
    date: '2026-05-08',
    title: 'After a week',
  })
  const { jobIds } = await library.ask('clips.add', {
    lessonId: secondId,
    files: [path.join(folder, 'first.mp4')],
  })
  await library.context.jobs.ended(jobIds[0]!)
  const second = await library.ask('lesson.open', { lessonId: secondId })
  await library.ask('comparison.save', {
    id: null,
    lessonId: secondId,
    name: 'A week later',
    firstViewId: views[0]!,
    secondViewId: second.swings[0]!.views[0]!.id,
    lockedOn: 'impact',
    arrangement: 'over',
    opacity: 0.4,
    isStretched: true,
    mirrorSecond: false,
  })
  await library.ask('student.create', { name: 'Somebody Else', side: 'left' })
  return { ...made, secondId }
}

/** The same whatever the ids: each is told by the place where it first stands. */
export const withoutIds = <T>(value: T): T => {
  const known = new Map<string, string>()
  return JSON.parse(
    JSON.stringify(value, (key, inner: unknown) => {
      if (key === 'revision') return 0
      if (typeof inner !== 'string' || !/^[0-9a-f]{8}-[0-9a-f-]{27}$/.test(inner)) return inner
      if (!known.has(inner)) known.set(inner, `#${known.size}`)
      return known.get(inner)
    }),
  ) as T
}

/** Everything of a lesson, as the calls of the contract tell it, without ids; films and pictures by their bytes. */
export const everythingOf = async (library: Library, lessonId: string) => {
  const opened = await library.ask('lesson.open', { lessonId })
  const { plan } = await library.ask('plan.get', { lessonId })
  const bytesOf = async (of: 'clip' | 'coach', clipId: string, kind: 'original' | 'play' = 'original') =>
    fs.readFileSync((await library.ask('media.resolve', { of, clipId, kind })).file).toString('base64')
  const films: unknown[] = []
  for (const clip of opened.clips) {
    films.push([
      clip.fileName,
      await bytesOf('clip', clip.id),
      await library.ask('clip.timestamps', { id: clip.id }),
      await library.ask('body.points', { clipId: clip.id }),
      library.context.db
        .select()
        .from(t.bodyCorrection)
        .where(eq(t.bodyCorrection.clipId, clip.id))
        .all()
        .map(({ frame, joint, x, y }) => ({ frame, joint, x, y })),
    ])
  }
  const pictures: unknown[] = []
  for (const id of [
    ...opened.facePhotos.flatMap((p) => p.pictureId ?? []),
    ...plan.items.flatMap((i) => i.pictureId ?? []),
  ]) {
    pictures.push(await bytesOf('coach', id, 'play'))
  }
  const { undoLabel: _undo, redoLabel: _redo, ...told } = opened
  return withoutIds({ told, plan, films, pictures })
}
