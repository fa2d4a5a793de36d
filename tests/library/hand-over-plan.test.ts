import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { HandOverDraft } from '../../shared-core/model/hand-over.ts'
import { lessonWithDrawing, writePackage, type LessonWithDrawing } from './support/lesson-with-drawing.ts'
import { ffprobeFile } from './support/make-clip.ts'
import { filesBelow } from './support/temporary-library.ts'

let opened: LessonWithDrawing
let drafts: fc.Arbitrary<Partial<HandOverDraft>>
const gone = 'a-talk-that-is-gone'
beforeAll(async () => {
  opened = await lessonWithDrawing()
  const { library, lessonId, views } = opened
  for (const [name, frame] of [
    ['top', 12],
    ['finish', 50],
  ] as const) {
    await library.ask('moment.place', { viewId: views[0]!, name, frame })
  }
  const { swings, comparisons } = await library.ask('lesson.open', { lessonId })
  const momentIds = new Map(swings.flatMap((s) => s.views).map((v) => [v.id, v.moments.map((m) => m.id)]))
  const swing = (viewId: string) =>
    fc.record({
      viewId: fc.constant(viewId),
      caption: fc.constantFrom('', 'Hold <this>'),
      momentIds: fc.subarray(momentIds.get(viewId)!),
      withClip: fc.boolean(),
    })
  drafts = fc.record({
    swings: fc
      .shuffledSubarray([...views])
      .chain((chosen) => fc.tuple(...chosen.map(swing)) as fc.Arbitrary<HandOverDraft['swings']>),
    comparisonIds: fc.subarray([...comparisons.map((c) => c.id), 'a-comparison-that-is-gone']),
    talkThroughIds: fc.subarray([gone]),
    maxHeight: fc.constantFrom(720 as const, 1080 as const),
    slowBy: fc.integer({ min: 1, max: 8 }),
    message: fc.constantFrom('', 'Well struck'),
  })
}, 120_000)
afterAll(async () => {
  await opened.library.close()
  fs.rmSync(opened.folder, { recursive: true, force: true })
})

/** What is read on the page: a clip's picture stands for the clip in the preview. */
const read = (html: string) =>
  html
    .replace(/<video[^]*?<\/video>|<img[^>]*>|<div class="only-screen">/g, '')
    .replace(/<\/?(div|figure)[^>]*>|\s+/g, ' ')
    .replace(/ +/g, ' ')

/** Width, height, frames and seconds of a written clip, by ffprobe. */
const factsOf = (file: string) => {
  const { streams } = JSON.parse(
    execFileSync(ffprobeFile, [
      ...['-v', 'error', '-select_streams', 'v:0', '-count_packets', '-of', 'json'],
      ...['-show_entries', 'stream=width,height,nb_read_packets,duration'],
      file,
    ]).toString(),
  ) as { streams: { width: number; height: number; nb_read_packets: string; duration: string }[] }
  return streams[0]!
}

describe('a hand-over', () => {
  it('holds what its preview said, whatever was chosen: words, pictures, clips, sizes, bytes, what is left out', async () => {
    const { library, lessonId, folder } = opened
    const fresh = await library.ask('handOver.draft', { lessonId })
    let n = 0
    await fc.assert(
      fc.asyncProperty(drafts, async (choices) => {
        const draft = { ...fresh, ...choices }
        await library.ask('handOver.saveDraft', draft)
        const preview = await library.ask('handOver.preview', { lessonId })
        n += 1
        const job = await writePackage(opened, path.join(folder, `out-${n}`))
        expect(job).toMatchObject({ state: 'done' })
        const page = fs.readFileSync(path.join(job.result!, 'index.html'), 'utf8')
        expect(read(page)).toBe(read(preview.html))
        const [record] = (await library.ask('handOver.list', { lessonId })).filter(
          (r) => r.folder === job.result,
        )
        // As many pictures, and of the same shape.
        const shapes = (html: string) =>
          [...html.matchAll(/<img[^>]* width="(\d+)" height="(\d+)" alt="([^"]*)"/g)].map(
            ([, w, h, alt]) => `${(Number(w) / Number(h)).toFixed(1)} ${alt}`,
          )
        expect(shapes(page)).toEqual(shapes(preview.html))
        // Every clip that was weighed lies there, as large and as long as its page says, and no other.
        const written = filesBelow(job.result!).filter((name) => name.endsWith('.mp4'))
        expect(preview.clips.map((c) => c.id)).toEqual([
          ...draft.swings.filter((s) => s.withClip).map((s) => s.viewId),
          ...draft.comparisonIds.filter((id) => !id.endsWith('gone')),
        ])
        const shown = [
          ...page.matchAll(/<video[^>]* width="(\d+)" height="(\d+)"[^]*?<source src="([^"]+)"/g),
        ].map(([, width, height, file]) => ({ width: Number(width), height: Number(height), file: file! }))
        expect(shown.map((s) => s.file).toSorted()).toEqual(written.toSorted())
        expect(shown).toHaveLength(preview.clips.length)
        for (const { file, ...size } of shown) {
          expect(factsOf(path.join(job.result!, file)), file).toMatchObject(size)
        }
        // About as heavy: a quarter off, or what a zip's own entries take where there is little in it.
        expect(Math.abs(preview.estimatedBytes! - record!.byteLength)).toBeLessThan(
          0.3 * record!.byteLength + 3000,
        )
        expect(record!.remarks.filter((text) => text.includes('was removed since'))).toHaveLength(
          [...draft.comparisonIds, ...draft.talkThroughIds].filter((id) => id.endsWith('gone')).length,
        )
        expect(record!.consentSaidBy).toBeNull()
      }),
      { numRuns: 6, seed: 20_260_501 },
    )
  }, 240_000)
})
