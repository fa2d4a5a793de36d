const escapes: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
}

/** Text that can stand in HTML, between tags or in a quoted attribute. */
export const escapeHtml = (text: string): string => text.replace(/[&<>"']/g, (c) => escapes[c]!)
