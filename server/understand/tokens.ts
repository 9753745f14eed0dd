/**
 * Words, numbers and marks of an utterance, each with its place in the text as typed. Lower case, one form per character,
 * contractions opened ("isn't" -> is not), so that every other file compares plain words only.
 */
export type TokenKind = 'word' | 'number' | 'mark';
export interface Token {
  text: string;
  kind: TokenKind;
  /** Span in the text as typed. */
  start: number;
  end: number;
  /** No space between it and the token before. */
  glued: boolean;
  /** As typed, where case matters (M and m, A and a). */
  raw: string;
}
export interface Text {
  typed: string;
  tokens: Token[];
  /** What was not read because the text is too long, as spans of the text as typed. */
  unread: [number, number][];
}
export interface Spelling {
  /** One word -> the words it stands for, parted by spaces. */
  rewrites: Record<string, string>;
  /** Contractions: the first that fits opens the word. */
  endings: [when: RegExp, to: string][];
}

/** Beyond these many characters only the beginning and the end are read: a danger is told first or last, not in the middle of a paste. */
export const READ_HEAD = 3000;
export const READ_TAIL = 1000;

const FRACTIONS = new Map(
  [...'½⅓⅔¼¾⅛⅜⅝⅞'].map((c, i) => [c, ['1/2', '1/3', '2/3', '1/4', '3/4', '1/8', '3/8', '5/8', '7/8'][i] ?? '']),
);
const TOKEN = /\d+(?:[.,:]\d+)*|[.,]\d+|\p{Extended_Pictographic}|[\p{L}\p{M}]+(?:'[\p{L}\p{M}]+)*'?|[^\s\p{L}\p{M}\d]/gu;

export function readText(typed: string, spelling: Spelling): Text {
  const unread: [number, number][] = [];
  const spans: [number, number][] = [[0, typed.length]];
  if (typed.length > READ_HEAD + READ_TAIL) {
    spans.splice(0, 1, [0, READ_HEAD], [typed.length - READ_TAIL, typed.length]);
    unread.push([READ_HEAD, typed.length - READ_TAIL]);
  }
  const tokens: Token[] = [];
  for (const [from, to] of spans) {
    if (from > 0) tokens.push({ text: '.', kind: 'mark', start: from, end: from, glued: false, raw: '.' });
    readSpan(typed, from, to, spelling, tokens);
  }
  return { typed, tokens, unread };
}

function readSpan(typed: string, from: number, to: number, spelling: Spelling, tokens: Token[]): void {
  const { text, at } = oneForm(typed.slice(from, to));
  const plain = digitsForLetters(text);
  let lastEnd = -1;
  for (const m of plain.matchAll(tokenOf(spelling))) {
    const index = m.index;
    const lower = m[0].toLowerCase();
    const first = String.fromCodePoint(lower.codePointAt(0) ?? 32);
    const start = from + (at[index] ?? 0);
    const end = from + (at[index + m[0].length - 1] ?? 0) + 1;
    const glued = index === lastEnd;
    lastEnd = index + m[0].length;
    const raw = m[0];
    if (lower.includes('/') && lower.length > 1)
      for (const word of openWord(lower, spelling)) tokens.push({ text: word, kind: 'word', start, end, glued, raw });
    else if (/\d/.test(lower)) tokens.push({ text: lower, kind: 'number', start, end, glued, raw });
    else if (/[\p{L}\p{M}\p{Extended_Pictographic}]/u.test(first)) {
      let g = glued;
      // after a number a lone letter is a unit, not short for a word
      const unit = lower.length === 1 && tokens.at(-1)?.kind === 'number';
      for (const word of unit ? [lower] : openWord(lower, spelling)) {
        tokens.push({ text: word, kind: 'word', start, end, glued: g, raw });
        g = false;
      }
    } else tokens.push({ text: lower, kind: 'mark', start, end, glued, raw });
  }
}

const tokenPatterns = new WeakMap<Record<string, string>, RegExp>();
/** What is one token: the language's own short forms with a stroke ("w/o") first. */
function tokenOf({ rewrites }: Spelling): RegExp {
  const known = tokenPatterns.get(rewrites);
  if (known) return known;
  const strokes = Object.keys(rewrites)
    .filter((w) => w.includes('/'))
    .sort((a, b) => b.length - a.length)
    .map((w) => w.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&'));
  const made = strokes.length
    ? new RegExp(`(?<![\\p{L}\\d])(?:${strokes.join('|')})(?![\\p{L}\\d])|${TOKEN.source}`, 'giu')
    : TOKEN;
  tokenPatterns.set(rewrites, made);
  return made;
}

/** Every character in one form (full width, ligatures, other digits), with its place in the text as typed. */
function oneForm(typed: string): { text: string; at: number[] } {
  let text = '';
  const at: number[] = [];
  const put = (s: string, i: number) => {
    text += s;
    for (let k = 0; k < s.length; k++) at.push(i);
  };
  for (let i = 0; i < typed.length; ) {
    const code = typed.codePointAt(i) ?? 0;
    const c = String.fromCodePoint(code);
    const fraction = FRACTIONS.get(c);
    if (fraction) put(` ${fraction}`, i);
    else if (/[\u2018\u2019\u02BC\u0060\u00B4]/.test(c)) put("'", i);
    else if (/[\u2010-\u2015\u2212]/.test(c)) put('-', i);
    else if (/\p{Cf}/u.test(c) || c === '\uFE0F') put('', i);
    else if (/\p{Cc}|\p{Z}|\p{Cs}/u.test(c)) put(c === '\n' ? '\n' : ' ', i);
    else if (/\p{Nd}/u.test(c)) put(asciiDigit(code), i);
    else put(c.normalize('NFKC').replaceAll('\u2044', '/'), i);
    i += c.length;
  }
  return { text, at };
}

/** Decimal digits stand in runs of ten whose zero sits on a multiple of ten from the run's start. */
function asciiDigit(code: number): string {
  if (code < 128) return String.fromCharCode(code);
  let zero = code;
  while (zero > code - 9 && /\p{Nd}/u.test(String.fromCodePoint(zero - 1))) zero--;
  return code - zero <= 9 ? String(code - zero) : ' ';
}

/** "l2O" -> "120": a letter that looks like a digit, only in a run that holds a digit. L1 and L2 are legs, 0L is over range. */
function digitsForLetters(text: string): string {
  const overRange = text.replace(/(?<![\p{L}\d.,])0(\.?l)(?![\p{L}\d])/giu, 'o$1');
  return overRange.replace(/(?<![\p{L}\d])[0-9lIoO|][0-9lIoO|.,]*(?![\p{L}])/gu, (run) => {
    if (!/\d/.test(run) || !/[lIoO|]/.test(run)) return run;
    if (/^[lL][1-3][.,]*$/.test(run)) return run;
    return run.replace(/[lI|]/g, '1').replace(/[oO]/g, '0');
  });
}

export function openWord(word: string, spelling: Spelling): string[] {
  const w = foldAccents(word.replace(/'+$/, ''));
  const told = spelling.rewrites[w] ?? spelling.rewrites[w.replaceAll("'", '')];
  if (told !== undefined) return told.split(' ').filter(Boolean);
  if (w.includes("'")) for (const [when, to] of spelling.endings) if (when.test(w)) return w.replace(when, to).split(' ');
  return [fewerRepeats(w, spelling)];
}

/** Accents are left away by so many who type that they tell nothing: Latin words are compared without. */
export function foldAccents(word: string): string {
  return /[\u00C0-\u024F]/.test(word) ? word.normalize('NFD').replace(/(?<=\p{Script=Latin}\p{M}*)\p{M}/gu, '') : word;
}

/** "yesyesyesyes" -> yes, "mmmmmm" -> mmm, "sooo" -> so. */
function fewerRepeats(w: string, spelling: Spelling): string {
  const unit = w.length > 11 ? /^(.{2,6}?)\1{3,}(.*)$/.exec(w) : null;
  if (unit?.[1]?.startsWith(unit[2] ?? '')) return fewerRepeats(unit[1], spelling);
  if (/^(.)\1{2,}$/.test(w)) return w.slice(0, 3);
  const squeezed = w.replace(/(\p{L})\1{2,}/gu, '$1');
  return spelling.rewrites[squeezed] ?? squeezed;
}
