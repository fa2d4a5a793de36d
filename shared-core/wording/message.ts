import { IntlMessageFormat } from 'intl-messageformat'

/**
 * The names of the places in an ICU message, read from its type: `'{n} of {all}'` has `n | all`. A plural's own texts have no
 * places (tests/shared-core/wording holds the messages to it).
 */
export type PlacesOf<Message extends string> = Message extends `${string}{${infer Opened}`
  ? Opened extends `${infer Inside}}${infer Rest}`
    ? Inside extends `${infer Name}, plural,${string}`
      ? Name | PlacesOf<AfterPlural<Opened>>
      : Inside | PlacesOf<Rest>
    : never
  : never
/** What stands behind a plural whose texts are still to come. */
type AfterPlural<Opened extends string> = Opened extends `${string}{${string}}${infer Rest}`
  ? Rest extends `}${infer Behind}`
    ? Behind
    : AfterPlural<Rest>
  : never

const made = new Map<string, IntlMessageFormat>()

const formatOf = (message: string, locale: string): IntlMessageFormat => {
  const key = `${locale} ${message}`
  let format = made.get(key)
  if (!format) {
    // "<" is a sign like any other here.
    format = new IntlMessageFormat(message, locale, undefined, { ignoreTag: true })
    made.set(key, format)
  }
  return format
}

/** Fills a message's places. One that is not filled throws: that is a bug. */
export const formatMessage = (
  message: string,
  locale: string,
  values: Readonly<Record<string, string | number>>,
): string => String(formatOf(message, locale).format(values))

/** The same where a place may hold something else than text: the texts and what was put between them, in order. */
export const messageParts = <Part>(
  message: string,
  locale: string,
  values: Readonly<Record<string, string | number | Part>>,
): (string | Part)[] =>
  formatOf(message, locale)
    .formatToParts<Part>(values)
    .map(({ value }) => value)
