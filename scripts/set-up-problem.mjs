/** Something the machine lacks or refuses: shown as its message alone, without a stack. */
export class SetUpProblem extends Error {
  name = 'SetUpProblem'
}

/** A line about the set-up. Always on stderr, so that a command's own output stays clean for other programs. */
export function say(line) {
  process.stderr.write(`set-up: ${line}\n`)
}

/** Runs a script's main function; a SetUpProblem prints as a plain message, anything else with its stack. */
export async function runMain(main) {
  try {
    process.exitCode = (await main()) ?? 0
  } catch (error) {
    process.stderr.write(
      error instanceof SetUpProblem ? `\n${error.message}\n` : `${error?.stack ?? error}\n`,
    )
    process.exitCode = 1
  }
}
