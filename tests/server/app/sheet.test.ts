import { describe, expect, test } from 'vitest';
import { escapeMarkdown, markdown } from '../../../server/markdown.ts';
import { testApp } from './ask.ts';

const HTML = 'coil 9.8 <script>alert(1)</script><img src=x onerror=alert(2)> & "quotes"';

describe('the job sheet', () => {
  const told = async () => {
    const { ask, open } = testApp();
    const id = await open();
    await ask('POST', `/api/cases/${id}/say`, { text: HTML });
    return (as: string, accept?: string) => ask('GET', `/api/cases/${id}/sheet${as}`, undefined, accept ? { accept } : {});
  };

  test.each([
    ['?as=json', undefined, 'application/json'],
    ['?as=markdown', undefined, 'text/markdown'],
    ['?as=page', undefined, 'text/html'],
    ['', undefined, 'application/json'],
    ['', '*/*', 'application/json'],
    ['', 'text/markdown', 'text/markdown'],
    ['', 'text/html,application/xhtml+xml,*/*;q=0.8', 'text/html'],
    ['?as=json', 'text/html', 'application/json'],
  ])('sheet%s with accept %s is %s', async (as, accept, type) => {
    const { status, headers } = await (await told())(as, accept);
    expect([status, headers.get('content-type')?.split(';')[0]]).toEqual([200, type]);
  });

  test('keeps what was typed letter for letter as data', async () => {
    const { body } = await (await told())('?as=json');
    expect(body.complaint.said[0]).toBe(HTML);
  });

  test('shows it on the page as text, never as tags', async () => {
    const { body } = await (await told())('?as=page');
    expect(body).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
    expect(body).not.toMatch(/<script|<img|onerror=[^&]*>(?!.*&gt;)/);
    expect(body).toMatch(/^<!doctype html>/);
    expect(body).toContain('<h1>Job sheet</h1>');
    expect(body).not.toMatch(/style=|<style|javascript:/);
  });
});

const TAGS = /<(?!\/?(p|em|strong|a|h[1-6]|ul|ol|li|code|pre|table|thead|tbody|tr|th|td|blockquote|hr|br|del|input)\b)[a-z!?/]/i;
describe('our Markdown', () => {
  test.each([
    '<script>alert(1)</script>',
    '<pre>\n<svg onload=alert(1)>\n</pre>',
    'x <b onclick=alert(1)>y</b>',
    '![x" onerror="alert(1)](y)',
    '<!-- --><img src=x onerror=alert(1)>',
    'x <pre> <svg/onload=alert(1)//',
    'x <script> <svg onload=alert(1)',
    '[a](javascript:alert(1)) [b](data:text/html,x) [c](//elsewhere.example)',
  ])('%s comes out without a tag or an address of its own', (source) => {
    const html = markdown(source);
    expect(html).not.toMatch(TAGS);
    expect(html).not.toMatch(/href="(javascript|data|\/\/)/i);
  });
  test('good links stay', () => {
    expect(markdown('[a](https://example.org/x?y=1&z=2)')).toContain('href="https://example.org/x?y=1');
    expect(markdown('[a](/api/docs)')).toContain('href="/api/docs"');
  });
});

describe('what a person typed stands in our Markdown letter for letter', () => {
  const text = (html: string) =>
    html
      .replace(/<[^>]*>/g, '')
      .replace(/&#(\d+);/g, (_, n) => String.fromCharCode(n))
      .replace(/&lt;/g, '<')
      .replace(/&gt;/g, '>')
      .replace(/&quot;/g, '"')
      .replace(/&#39;/g, "'")
      .replace(/&amp;/g, '&')
      .trim();
  test.each([
    '# not a heading',
    '- not a list',
    '+ not a list',
    '12. not a list',
    '3) not a list',
    '---',
    '===',
    '> not quoted',
    '*not* _not_ **not** `not` ~~not~~',
    '[not](https://example.org) ![not](x) [not][1]',
    '| not | a | table |',
    '<b>not</b> &lt;i&gt; &amp;',
    'https://example.org www.example.org a@example.org ftp://example.org',
    'back\\slash \\* end\\',
    '~~~',
    '    not code',
    'two\n\n# lines',
    '119.8 V, 0.3 Ω, -5 °C, 9-10 (about) 1+1=2!',
  ])('%s', (said) => {
    const words = said.replace(/\s+/g, ' ').trim();
    for (const source of [escapeMarkdown(said), `- said: ${escapeMarkdown(said)}`]) {
      const html = markdown(source);
      expect(html).not.toMatch(/<(?!\/?(p|ul|li)\b)/);
      expect(text(html).replace(/^said: /, '')).toBe(words);
    }
  });
  test('a plain reading is not made harder to read', () => {
    expect(escapeMarkdown('119.8 V, about 0.3 ohm (cold)')).toBe('119.8 V, about 0.3 ohm (cold)');
  });
});
