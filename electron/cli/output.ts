import type { Job } from '../../shared-core/model/entities.ts'
import { commonTexts } from '../../shared-core/wording/command-line/common.ts'

/** Where a command's words go: results to stdout, everything else to stderr. */
export interface Output {
  readonly isJson: boolean
  /** The result: printed as JSON with --json, else as the lines given. */
  result(value: unknown, lines: readonly string[]): void
  /** A message while working; never on stdout with --json. */
  say(line: string): void
  /** Progress of a job, one line that is rewritten on a terminal. */
  progress(job: Job): void
}

export const makeOutput = (isJson: boolean): Output => {
  const isTerminal = process.stderr.isTTY === true
  const lastStep = new Map<string, string>()
  let isOpen = false
  const close = () => {
    if (isOpen) process.stderr.write('\n')
    isOpen = false
  }
  return {
    isJson,
    result(value, lines) {
      close()
      if (isJson) process.stdout.write(`${JSON.stringify(value, null, 2)}\n`)
      else if (lines.length) process.stdout.write(`${lines.join('\n')}\n`)
    },
    say(line) {
      close()
      ;(isJson ? process.stderr : process.stdout).write(`${line}\n`)
    },
    progress(job) {
      if (isTerminal && job.state === 'running') {
        process.stderr.write(`\r\x1b[2K  ${job.label}: ${job.step} ${Math.round(job.progress * 100)} %`)
        isOpen = true
      } else if (!isTerminal && job.kind === 'add-clip' && job.state === 'done') {
        process.stderr.write(`  ${job.label}: ${job.result}\n`)
      } else if (!isTerminal && job.kind !== 'add-clip' && job.state === 'running' && !/\d/.test(job.step)) {
        if (lastStep.get(job.id) !== job.step) process.stderr.write(`  ${job.label}: ${job.step}\n`)
        lastStep.set(job.id, job.step)
      }
    },
  }
}

/** Lines of a table, columns padded; numbers to the right. */
export const table = (header: readonly string[], rows: readonly (readonly string[])[]): string[] => {
  const widths = header.map((h, i) => Math.max(h.length, ...rows.map((r) => (r[i] ?? '').length)))
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, i) =>
        /^[-+−]?[\d.]/.test(cell) || cell === '–' ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!),
      )
      .join('  ')
      .trimEnd()
  return [line(header), widths.map((w) => '─'.repeat(w)).join('  '), ...rows.map(line)]
}

type Heading = keyof typeof commonTexts.messages extends infer Key
  ? Key extends `heading.${infer Name}`
    ? Name
    : never
  : never

/** What stands over the columns of a table. */
export const headings = (...names: readonly Heading[]): string[] =>
  names.map((name) => commonTexts(`heading.${name}`))
