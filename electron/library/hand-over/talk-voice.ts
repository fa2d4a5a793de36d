import fs from 'node:fs'
import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'
import { pipeFrom, runFfmpeg, type RunOptions } from '../media/run-ffmpeg.ts'

export const voiceRate = 48_000
/**
 * What a voice is brought to: −16 LUFS, a usual loudness of speech on phones (common practice; the AES TD1008
 * recommendation names −18 to −16 for speech), peaks at most −1.5 dBTP so that AAC does not clip.
 */
export const voiceTarget = { lufs: -16, truePeakDb: -1.5, rangeLu: 11 } as const

const loudnorm = `loudnorm=I=${voiceTarget.lufs}:TP=${voiceTarget.truePeakDb}:LRA=${voiceTarget.rangeLu}`
// Gaps become silence: the sound's clock is the timeline's.
const steady = `aresample=async=1:first_pts=0,aresample=${voiceRate}`

/** Numbers of loudnorm's first pass; null if there is nothing to be heard. */
const measured = (stderr: string): Record<string, number> | null => {
  const json = /\{[^{}]*"input_i"[^{}]*\}/.exec(stderr)?.[0]
  if (!json) return null
  const values = Object.entries(JSON.parse(json) as Record<string, string>).map(
    ([name, text]) => [name, Number(text)] as const,
  )
  const found = Object.fromEntries(values)
  const needed = ['input_i', 'input_tp', 'input_lra', 'input_thresh', 'target_offset']
  // −70 LUFS is the absolute gate of ITU-R BS.1770-4: below it nothing counts as sound.
  return needed.every((name) => Number.isFinite(found[name])) && found['input_i']! > -70 ? found : null
}

/**
 * The recorded voice, evened out in two passes, as 16-bit mono at `voiceRate` in the work folder. Silence stays silence.
 * @throws Cancelled, Problem `media`, `no-sound`
 */
export const evenVoice = async (
  soundFile: string,
  work: string,
  options: RunOptions,
): Promise<{ file: string; durationSeconds: number }> => {
  const { stderr } = await pipeFrom(
    'doing.recording',
    options.programs.ffmpeg.file,
    ['-hide_banner', '-nostdin', '-nostats', '-i', soundFile, '-map', '0:a:0', '-vn', '-ac', '1'].concat([
      '-af',
      `${steady},${loudnorm}:print_format=json`,
      '-f',
      'null',
      '-',
    ]),
    () => {},
    options,
  )
  const facts = measured(stderr)
  const even = facts
    ? `,${loudnorm}:measured_I=${facts['input_i']}:measured_TP=${facts['input_tp']}` +
      `:measured_LRA=${facts['input_lra']}:measured_thresh=${facts['input_thresh']}` +
      `:offset=${facts['target_offset']}:linear=true`
    : ''
  const file = path.join(work, 'voice.pcm')
  await runFfmpeg(
    'doing.voice',
    (command) =>
      command
        .input(soundFile)
        .outputOptions(['-map', '0:a:0', '-vn', '-ac', '1', '-af', `${steady}${even}`])
        .outputOptions(['-ar', String(voiceRate), '-f', 's16le'])
        .output(file),
    options,
  )
  const durationSeconds = fs.statSync(file).size / 2 / voiceRate
  if (durationSeconds < 0.2) {
    throw new Problem('no-sound.recording')
  }
  return { file, durationSeconds }
}
