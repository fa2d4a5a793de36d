import { execFileSync } from 'node:child_process'

/** The clip that the measurements are about: 1080p, 240 frames a second, 2.5 s. */
export const fastClip = { width: 1920, height: 1080, rate: 240, seconds: 2.5, frames: 600 } as const

/**
 * Writes one such clip as phones do: a key picture a second, pictures that lean on later ones, sound with one sharp
 * strike. Moving test picture with grain, so that it is as hard to decode as a filmed one. `kind` makes it another clip.
 */
export const writeFastClip = (
  ffmpeg: string,
  file: string,
  kind: number,
  seconds: number = fastClip.seconds,
): void => {
  const { width, height, rate } = fastClip
  const strike = 'if(between(t,1.5,1.512),0.9*sin(19000*t)*exp(-400*(t-1.5)),0.002*sin(700*t))'
  execFileSync(ffmpeg, [
    ...['-v', 'error', '-nostdin', '-y'],
    ...['-f', 'lavfi', '-i', `testsrc2=size=${width}x${height}:rate=${rate}:duration=${seconds}`],
    ...['-f', 'lavfi', '-i', `aevalsrc='${strike}':s=48000:d=${seconds}`],
    ...['-vf', `noise=alls=5:allf=t:all_seed=${kind},hue=h=${40 * kind}`],
    ...[
      '-c:v',
      'libx264',
      '-preset',
      'veryfast',
      '-crf',
      '24',
      '-g',
      '240',
      '-bf',
      '2',
      '-pix_fmt',
      'yuv420p',
    ],
    ...['-c:a', 'aac', '-movflags', '+faststart', file],
  ])
}
