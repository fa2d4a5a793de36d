import { Command } from 'commander'
import { custodyCommands } from './commands/custody.ts'
import { demoCommand } from './commands/demo.ts'
import { exchangeCommands } from './commands/exchange.ts'
import { fileCommands } from './commands/files.ts'
import { flightCommand } from './commands/flight.ts'
import { followCommand } from './commands/follow.ts'
import { handOverCommand } from './commands/hand-over.ts'
import { liveCommand } from './commands/live.ts'
import { numberCommands } from './commands/numbers.ts'
import { swishesCommand } from './commands/swishes.ts'
import { worksCommand } from './commands/works.ts'
import { recordCommands } from './commands/records.ts'
import { programTexts } from '../../shared-core/wording/command-line/program.ts'

/** Every command takes these two. */
const withCommonOptions = (command: Command): Command => {
  for (const child of command.commands) withCommonOptions(child)
  if (command.commands.length === 0) {
    command
      .option('--json', programTexts('machinereadableResultOn'))
      .option('--library <dir>', programTexts('folderLibraryDefaultOne'))
  }
  // What begins with a dash is read as an option; the usual two ways around it are said where it may have been a file.
  command.configureOutput({
    outputError: (text, write) =>
      write(/unknown option/.test(text) ? programTexts('textIfFileWhose', { text }) : text),
  })
  return command.exitOverride().showHelpAfterError(programTexts('leadsideHelpExplains'))
}

/** The `leadside` command: the same library as the window, without a window. */
export const program = (): Command => {
  const root = new Command('leadside').description(programTexts('lessonNotesForGolf')).helpCommand(false)
  for (const command of [
    demoCommand(),
    ...recordCommands(),
    ...fileCommands(),
    liveCommand(),
    swishesCommand(),
    followCommand(),
    ...numberCommands(),
    worksCommand(),
    flightCommand(),
    handOverCommand(),
    ...exchangeCommands(),
    ...custodyCommands(),
  ]) {
    root.addCommand(command)
  }
  return withCommonOptions(root)
}
