export function unzip(
  file: string,
  target: string,
  wanted: (name: string) => boolean,
  strip: string,
): Promise<void>
