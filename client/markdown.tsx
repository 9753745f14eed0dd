import { markdown } from '../server/markdown.ts';

/** Our own Markdown as blocks. Never for what a person typed: that goes in as a text node. */
export const Prose = ({ text, class: name }: { text: string; class?: string }) => (
  <div class={name ? `prose ${name}` : 'prose'} dangerouslySetInnerHTML={{ __html: markdown(text) }} />
);

/** One paragraph of our own Markdown without the paragraph around it; a list or a heading stays as it is. */
export const inline = (text: string) => ({
  __html: markdown(text)
    .trim()
    .replace(/^<p>((?:(?!<p>)[\s\S])*)<\/p>$/, '$1'),
});
