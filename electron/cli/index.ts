#!/usr/bin/env node
import { CommanderError } from 'commander'
import { Problem } from '../../shared-core/problem.ts'
import { program } from './program.ts'

/** Exit codes: 0 done, 1 failed with a message, 2 wrong usage. */
try {
  await program().parseAsync(process.argv)
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? 0 : 2
  } else if (error instanceof Problem) {
    process.stderr.write(`leadside: ${error.where ? `${error.where}: ` : ''}${error.what}\n`)
    if (error.toDo) process.stderr.write(`${error.toDo}.\n`)
    process.exitCode = error.code === 'usage' || error.code.startsWith('quantity-') ? 2 : 1
  } else {
    process.stderr.write(`leadside: unexpected: ${(error as Error).stack ?? String(error)}\n`)
    process.exitCode = 1
  }
}
