import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'
import { overPhrase, programOutput } from '../media/program-output.ts'
import { reasonOf } from '../media/reason-of.ts'

/** Throws the signal's reason once it has aborted. */
const throwIfAborted = (signal: AbortSignal | undefined): void => {
  if (signal?.aborted) throw signal.reason instanceof Error ? signal.reason : new Error('cancelled')
}

/**
 * A media program's output for finding moments, with its endings in the words of that work.
 * @throws Problem `clip-unreadable`, naming the clip, with the program's reason, unless `mayFail`; `no-ffmpeg`;
 *   the signal's reason when it aborts
 */
export async function* mediaStream(
  program: string,
  args: string[],
  options: { clip: string; signal?: AbortSignal; onLog?: (text: string) => void; mayFail?: boolean },
): AsyncGenerator<Buffer> {
  const { clip, signal, onLog, mayFail = false } = options
  throwIfAborted(signal)
  const { code, failure, over, log } = yield* programOutput(program, args, { signal, onLog })
  throwIfAborted(signal)
  if (failure !== null) {
    throw new Problem(
      'no-ffmpeg.start',
      { program: path.basename(program), where: path.basename(clip) },
      { cause: failure },
    )
  }
  if (over !== null) {
    throw new Problem('clip-unreadable.over', { limit: overPhrase(over), where: path.basename(clip) })
  }
  if (code !== 0 && !mayFail) {
    throw new Problem('clip-unreadable.said', {
      reason: reasonOf(log.replaceAll(clip, path.basename(clip))),
      where: path.basename(clip),
    })
  }
}
