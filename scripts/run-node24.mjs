import { spawn } from 'node:child_process'
import { constants } from 'node:os'
import { toolEnv } from './paths.mjs'

/**
 * Runs a program in this one's place: the same input, output and arguments, signals passed on, the same exit code.
 * @returns {Promise<number>} the exit code (128 + the signal's number when a signal ended it)
 */
export function runInstead(program, args, { cwd, env = {} } = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, { cwd, env: toolEnv(env), stdio: 'inherit' })
    const pass = (signal) => child.kill(signal)
    const signals = ['SIGINT', 'SIGTERM', 'SIGHUP']
    for (const signal of signals) process.on(signal, pass)
    child.on('error', reject)
    child.on('close', (code, signal) => {
      for (const name of signals) process.off(name, pass)
      resolve(signal ? 128 + (constants.signals[signal] ?? 0) : (code ?? 1))
    })
  })
}
