import { Marked } from 'marked';

const escapeHtml = (text: string) => text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
const safeHref = (href: string) => (/^(https?:\/\/|\/(?!\/)|#)/i.test(href) ? href : undefined);

const ours = new Marked({ gfm: true, async: false }).use({
  // Not only the renderer: a raw <script> or <pre> would switch off the escaping of the text after it.
  tokenizer: { html: () => undefined, tag: () => undefined },
  renderer: {
    html: (token) => escapeHtml(token.text),
    image: (token) => escapeHtml(token.text),
    link(token) {
      const inner = this.parser.parseInline(token.tokens);
      const href = safeHref(token.href);
      return href ? `<a href="${escapeHtml(href)}" rel="noopener">${inner}</a>` : inner;
    },
  },
});

/** Our own Markdown as HTML. Raw HTML in it comes out as text, pictures as their words, links only to http(s) and our own pages. */
export const markdown = (source: string): string => ours.parse(source) as string;

/** What a person typed, so that it stands in our Markdown letter for letter: no heading, list, link, table cell or line of its own. */
export const escapeMarkdown = (said: string): string =>
  said
    .replace(/\s+/g, ' ')
    .trim()
    .replace(/[\\`*_[\]<>&|~#@]/g, '\\$&')
    .replace(/^([-+=](?!\d)|\d{1,9}(?=[.)](?:\s|$)))/, (start) => (/\d/.test(start) ? `${start}\\` : `\\${start}`))
    .replace(/\b(https?|ftp):/gi, '$1\\:')
    .replace(/\bwww\./gi, (www) => `${www.slice(0, 3)}\\.`);
