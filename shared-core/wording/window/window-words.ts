import { localeOf } from '../language.ts'
import { formatMessage, type PlacesOf } from '../message.ts'

/** What fills the places of a message; nothing where it has none. */
type Filled<Message extends string> =
  PlacesOf<Message> extends never ? [] : [values: Readonly<Record<PlacesOf<Message>, string | number>>]

/**
 * Says the messages of one screen (ICU, one module for each screen beside this file). The window speaks English; another
 * language is another module with the same keys. A place that is missing or misspelt doesn't compile.
 */
export const windowWords =
  <const Messages extends Readonly<Record<string, string>>>(messages: Messages) =>
  <K extends keyof Messages & string>(key: K, ...filled: Filled<Messages[K]>): string => {
    const message: string = messages[key]!
    // Most have no places: they are said thousands of times while a screen is painted.
    return message.includes('{') ? formatMessage(message, localeOf.en, filled[0] ?? {}) : message
  }
