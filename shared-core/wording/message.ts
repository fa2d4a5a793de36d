import { IntlMessageFormat } from 'intl-messageformat'

/**
 * The names of the places in an ICU message, read from its type: `'{n} of {all}'` has `n | all`. A plural's or select's own
 * texts hold a blank or a `#` and no places of their own (tests/shared-core/wording holds the messages to it).
 */
export type PlacesOf<Message extends string> = Message extends `${string}{${infer Inside}}${infer Rest}`
  ? NameIn<Inside> | PlacesOf<Rest>
  : never
type NameIn<Inside extends string> = Inside extends `${infer Name},${string}`
  ? Name
  : Inside extends `${string} ${string}` | `${string}#${string}`
    ? never
    : Inside

const made = new Map<string, IntlMessageFormat>()

/** Fills a message's places. One that is not filled throws: that is a bug. */
export const formatMessage = (
  message: string,
  locale: string,
  values: Readonly<Record<string, string | number>>,
): string => {
  const key = `${locale} ${message}`
  let format = made.get(key)
  if (!format) {
    // "<" is a sign like any other here.
    format = new IntlMessageFormat(message, locale, undefined, { ignoreTag: true })
    made.set(key, format)
  }
  return String(format.format(values))
}
