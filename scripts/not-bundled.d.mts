export const notBundled: RegExp[]
