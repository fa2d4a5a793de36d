import { z } from 'zod'

/** ffprobe's arguments that make it say what `streamHeaders` reads. */
export const headerArgs = (file: string): string[] => [
  ...['-v', 'error', '-print_format', 'json', '-show_streams', '-show_format'],
  file,
]

const tags = z.record(z.string(), z.coerce.string()).default({})
const number = z.coerce.number()
const headersSchema = z.object({
  streams: z
    .array(
      z.object({
        index: number,
        codec_type: z.string().optional(),
        codec_name: z.string().default('unknown'),
        pix_fmt: z.string().default(''),
        color_range: z.string().default(''),
        width: number.default(0),
        height: number.default(0),
        sample_aspect_ratio: z.string().default(''),
        avg_frame_rate: z.string().default(''),
        sample_rate: number.default(0),
        field_order: z.string().default('unknown'),
        duration: number.optional().catch(undefined),
        tags,
        side_data_list: z.array(z.looseObject({ rotation: number.optional() })).default([]),
        disposition: z.looseObject({ attached_pic: number.optional() }).optional(),
      }),
    )
    .default([]),
  format: z.object({ format_name: z.string().default(''), duration: number.optional(), tags }).optional(),
})

type Stream = z.infer<typeof headersSchema>['streams'][number]

/** What the headers of a media file say, before a packet of it is read. */
export interface StreamHeaders {
  /** The moving picture: a cover picture is none. */
  picture: (Stream & { rotationDeg: number; isTurned: boolean }) | null
  pictureCount: number
  sound: Stream | null
  container: string
  durationSeconds: number | null
  /** The file's tags and the picture's; the picture's win. */
  tags: Record<string, string>
}

const tidyRotation = (degrees: number) => (((Math.round(degrees / 90) * 90) % 360) + 360) % 360

/**
 * Reads ffprobe's answer to `headerArgs`.
 * @throws if it is not JSON of that form
 */
export const streamHeaders = (json: string): StreamHeaders => {
  const { streams, format } = headersSchema.parse(JSON.parse(json || '{}'))
  const pictures = streams.filter((s) => s.codec_type === 'video')
  const picture = pictures.find((s) => !s.disposition?.attached_pic)
  // Counter-clockwise in the side data, clockwise in the older tag.
  const turn =
    picture?.side_data_list.find((s) => s.rotation !== undefined)?.rotation ??
    -Number(picture?.tags.rotate ?? 0)
  const rotationDeg = tidyRotation(-turn)
  return {
    picture: picture ? { ...picture, rotationDeg, isTurned: rotationDeg % 180 === 90 } : null,
    pictureCount: pictures.length,
    sound: streams.find((s) => s.codec_type === 'audio') ?? null,
    container: format?.format_name ?? '',
    durationSeconds: format?.duration && format.duration > 0 ? format.duration : null,
    tags: { ...format?.tags, ...picture?.tags },
  }
}
