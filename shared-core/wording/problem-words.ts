import { problems } from './coach/problems.ts'
import { localeOf } from './language.ts'
import { formatMessage, type PlacesOf } from './message.ts'
import { sayWords, type Word, type Words } from './phrase.ts'

/** Which problem: its code, and after a dot which of the code's sentences. */
export type ProblemKey = keyof typeof problems

type Texts<K extends ProblemKey> = (typeof problems)[K][keyof (typeof problems)[K]]
type Places<K extends ProblemKey> = Texts<K> extends infer Text extends string ? PlacesOf<Text> : never

/** What fills the sentences of a problem; `where` names the file, clip, line or record it happened at. */
export type ProblemValues<K extends ProblemKey> = Readonly<Record<Places<K>, Word>> & {
  readonly where?: Word | null
}

/** True for a key that there is a message for. */
export const isProblemKey = (key: string): key is ProblemKey => Object.hasOwn(problems, key)

/** A problem's sentences in English, the window's language. */
export const problemWords = (key: ProblemKey, values: Words): { what: string; toDo: string | null } => {
  const { what, toDo }: { what: string; toDo?: string } = problems[key]
  const said = sayWords(values)
  const say = (message: string) => formatMessage(message, localeOf.en, said)
  return { what: say(what), toDo: toDo === undefined ? null : say(toDo) }
}
