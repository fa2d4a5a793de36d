import { localeOf } from '../language.ts'
import { formatMessage, messageParts, type PlacesOf } from '../message.ts'

/** ICU messages by their keys. */
export type Messages = Readonly<Record<string, string>>

/** What fills the places of a message; nothing where it has none. */
type Filled<Message extends string, Value> =
  PlacesOf<Message> extends never ? [] : [values: Readonly<Record<PlacesOf<Message>, Value>>]

/** Says the messages of one screen. */
export interface WindowWords<M extends Messages> {
  <K extends keyof M & string>(key: K, ...filled: Filled<M[K], string | number>): string
  /** The same where a place holds something that is no text, such as a button: texts and parts in order. */
  parts<K extends keyof M & string, Part>(
    key: K,
    values: Readonly<Record<PlacesOf<M[K]>, string | number | Part>>,
  ): (string | Part)[]
  readonly messages: M
}

/**
 * Says the messages of one screen (ICU, one module for each screen beside this file). The window speaks English; another
 * language is another module with the same keys. A place that is missing or misspelt doesn't compile.
 */
export const windowWords = <const M extends Messages>(messages: M): WindowWords<M> => {
  const say = (key: keyof M & string, values: Readonly<Record<string, string | number>> = {}): string => {
    const message: string = messages[key]!
    // Most have no places: they are said thousands of times while a screen is painted.
    return message.includes('{') ? formatMessage(message, localeOf.en, values) : message
  }
  const parts = <Part>(key: keyof M & string, values: Readonly<Record<string, string | number | Part>>) =>
    messageParts<Part>(messages[key]!, localeOf.en, values)
  return Object.assign(say, { parts, messages })
}
