const entities: Readonly<Record<string, string>> = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&#x27;': '’',
}

/** What is read on a student's page: its paragraphs and list items, one a line; titles, numbers and captions left out. */
export const pageProse = (html: string): string => {
  const main = /<main>([\s\S]*)<\/main>/.exec(html)?.[1] ?? ''
  // What stands on paper only would count twice; what a clip holds on is a caption.
  const read = main.replace(/<ul class="holds">[\s\S]*?<\/ul>/g, '')
  return [...read.matchAll(/<(p|li)(?: [^>]*)?>([\s\S]*?)<\/\1>/g)]
    .map(([, , inner]) =>
      inner!
        .replace(/<[^>]+>/g, ' ')
        .replace(/&(?:amp|lt|gt|quot|#x27);/g, (entity) => entities[entity]!)
        .replace(/\s+/g, ' ')
        .trim(),
    )
    .filter((text) => text !== '')
    .map((text) => (/[.!?]$/.test(text) ? text : `${text}.`))
    .join('\n')
}
