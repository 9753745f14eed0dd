import type { Token } from './tokens.ts';

/** What the words of one language say about numbers. */
export interface NumberWords {
  /** 0..99 in words; also slang spellings ("fordy"). */
  small: Record<string, number>;
  /** Words that are zero only between other number words ("two oh eight"). */
  zeroInside: string[];
  hundred: string[];
  /** Hundreds that are one word: "doscientos" -> 200. */
  hundreds: Record<string, number>;
  thousand: string[];
  /** What joins tens and ones: "treinta y uno". */
  tensJoin: string[];
  point: string[];
  and: string[];
  /** "a hundred", "half an hour" */
  articles: string[];
  /** "a couple of" */
  of: string[];
  /** "half" -> 0.5, "quarter" -> 0.25 */
  parts: Record<string, number>;
  /** "tenths" -> 0.1, "thirds" -> 1/3: "six tenths" */
  fractions: Record<string, number>;
  /** "couple" -> 2, "dozen" -> 12 */
  counts: Record<string, number>;
  /** Words after which a lone "one" is no number ("the last one"). */
  notBeforeOne: string[];
  /** After these "a volt" asks what that is. */
  notBeforeA: string[];
  /** After "a" or "half a" these are counted: "an hour" is 1. */
  aUnits: string[];
  /** Before these a lone "one" is no number ("one side"). */
  notAfterOne: string[];
  /** A lone digit right after these is part of a name ("L1", "leg 2"). */
  namesBefore: string[];
  about: string[];
  more: string[];
  minus: string[];
}

export interface Found {
  value: number;
  /** Tokens from..to (exclusive). */
  from: number;
  to: number;
  approx: boolean;
  spelled: boolean;
  /** Another way to read the same characters, used only where the first is impossible: "5.400" as 5400. */
  other?: number;
  /** Written as h:mm. */
  clock?: boolean;
  /** A letter inside stood for the decimal point: 10k3. The unit prefix is spent. */
  prefix?: string;
  /** The characters, for leading zeros and a lone "1". */
  raw: string;
  /** "120/240": the number after this one belongs to it. */
  pair?: boolean;
  /** An empty first place: "24 0". */
  split?: boolean;
}

export function findNumbers(tokens: Token[], words: NumberWords): Found[] {
  const out: Found[] = [];
  for (let i = 0; i < tokens.length; ) {
    const n = digits(tokens, i, words) ?? spelled(tokens, i, words);
    if (!n) {
      i++;
      continue;
    }
    const before = tokens[n.from - 1];
    const about = before && (words.about.includes(before.text) || before.text === '~');
    const more = words.and.includes(tokens[n.to]?.text ?? '') && words.more.includes(tokens[n.to + 1]?.text ?? '');
    const ish = words.more.includes(tokens[n.to]?.text ?? '');
    out.push({ ...n, approx: n.approx || Boolean(about) || more || ish });
    i = n.to;
  }
  return out;
}

function digits(tokens: Token[], i: number, words: NumberWords): Found | undefined {
  const t = tokens[i];
  if (t?.kind !== 'number') return undefined;
  if (/^[1-4]$/.test(t.text) && words.namesBefore.includes(tokens[i - 1]?.text ?? '')) return undefined;
  const found = { from: i, to: i + 1, approx: false, spelled: false, raw: t.text, ...written(t.text) };
  const sign = tokens[i - 1];
  const wordBefore = tokens[i - 2];
  if ((sign?.text === '-' && t.glued && !(sign.glued && wordBefore)) || words.minus.includes(sign?.text ?? '')) {
    found.value = -found.value;
    found.from = i - 1;
  }
  // 10k3, 4r7: the letter is the decimal point
  const letter = tokens[i + 1];
  const rest = tokens[i + 2];
  if (
    letter?.glued &&
    rest?.glued &&
    /^[krm]$/.test(letter.text) &&
    rest.kind === 'number' &&
    /^\d+$/.test(rest.text) &&
    /^\d+$/.test(t.text)
  )
    return {
      ...found,
      value: Number(`${t.text}.${rest.text}`),
      to: i + 3,
      prefix: letter.raw,
      raw: `${t.text}${letter.text}${rest.text}`,
    };
  // 1/2, 10 1/2
  const half = fraction(tokens, i);
  if (half !== undefined) return { ...found, value: half, to: i + 3 };
  const tail = /^\d+$/.test(t.text) ? fraction(tokens, i + 1) : undefined;
  if (tail !== undefined) return { ...found, value: found.value + tail, to: i + 4 };
  // "2 hundred", "5 thousand", "5.4 thousand"
  const next = tokens[i + 1]?.text ?? '';
  if (words.hundred.includes(next)) return { ...found, value: found.value * 100, to: i + 2 };
  if (words.thousand.includes(next)) return { ...found, value: found.value * 1000, to: i + 2 };
  // "10 point 4"
  if (words.point.includes(next) && tokens[i + 2]?.kind === 'number' && /^\d+$/.test(tokens[i + 2]?.text ?? ''))
    return { ...found, value: Number(`${t.text}.${tokens[i + 2]?.text}`), to: i + 3 };
  const half2 = andAPart(tokens, i + 1, words);
  if (half2) return { ...found, value: found.value + half2.add, to: half2.to };
  if (/^\d{2}$/.test(t.text) && tokens[i + 1]?.text === '0' && !tokens[i + 1]?.glued) return { ...found, split: true };
  return found;
}

function fraction(tokens: Token[], i: number): number | undefined {
  const [a, slash, b] = [tokens[i], tokens[i + 1], tokens[i + 2]];
  if (a?.kind !== 'number' || slash?.text !== '/' || b?.kind !== 'number') return undefined;
  const [n, d] = [Number(a.text), Number(b.text)];
  return n > 0 && n < d && [2, 3, 4, 8, 10, 16].includes(d) && Number.isInteger(n) ? n / d : undefined;
}

/** How digits with points and commas can be read; a lone point before three digits may part thousands. */
export function written(s: string): { value: number; other?: number; clock?: boolean } {
  if (/^\d{1,2}:\d{2}$/.test(s)) {
    const [h, m] = s.split(':').map(Number);
    return { value: (h ?? 0) * 60 + (m ?? 0), clock: true };
  }
  if (/^\d+$/.test(s)) return { value: Number(s) };
  if (/^\d{1,3}(,\d{3})+(\.\d+)?$/.test(s)) {
    const value = Number(s.replaceAll(',', ''));
    return /^\d{1,3},\d{3}$/.test(s) ? { value, other: Number(s.replace(',', '.')) } : { value };
  }
  if (/^\d{1,3}(\.\d{3})+,\d+$/.test(s) || /^\d{1,3}(\.\d{3}){2,}$/.test(s))
    return { value: Number(s.replaceAll('.', '').replace(',', '.')) };
  if (/^\d*[.,]\d+$/.test(s)) {
    const value = Number(s.replace(',', '.'));
    return /^\d{1,3}\.\d{3}$/.test(s) ? { value, other: Number(s.replace('.', '')) } : { value };
  }
  return { value: Number.parseFloat(s.replace(',', '.')) };
}

function andAPart(tokens: Token[], i: number, words: NumberWords): { add: number; to: number } | undefined {
  let k = i;
  if (!words.and.includes(tokens[k]?.text ?? '')) return undefined;
  k++;
  const three = words.small[tokens[k]?.text ?? ''];
  const part3 = words.parts[tokens[k + 1]?.text ?? ''] ?? words.fractions[tokens[k + 1]?.text ?? ''];
  if (three && three < 10 && part3) return { add: three * part3, to: k + 2 };
  if (words.articles.includes(tokens[k]?.text ?? '')) k++;
  const part = words.parts[tokens[k]?.text ?? ''];
  return part ? { add: part, to: k + 1 } : undefined;
}

const tidy = (n: number): number => Number(n.toPrecision(12));

function spelled(tokens: Token[], i: number, words: NumberWords): Found | undefined {
  const at = (k: number) => tokens[k]?.text ?? '';
  const isWord = (k: number) => tokens[k]?.kind === 'word';
  const small = (k: number): number | undefined =>
    isWord(k) && Object.hasOwn(words.small, at(k)) ? words.small[at(k)] : undefined;
  const made = (value: number, to: number, approx = false): Found => ({
    value: tidy(value),
    from: i,
    to,
    approx,
    spelled: true,
    raw: tokens
      .slice(i, to)
      .map((t) => t.text)
      .join(' '),
  });
  if (!isWord(i)) return undefined;
  const article = (k: number) => words.articles.includes(at(k));
  const skipA = article(i) ? i + 1 : i;
  const count = Object.hasOwn(words.counts, at(skipA)) ? words.counts[at(skipA)] : undefined;
  if (count !== undefined) return made(count, words.of.includes(at(skipA + 1)) ? skipA + 2 : skipA + 1, count === 2);
  // "what is an ohm" counts nothing
  if (skipA > i && words.aUnits.includes(at(skipA))) return words.notBeforeA.includes(at(i - 1)) ? undefined : made(1, skipA);
  const partAlone = words.parts[at(i)];
  if (partAlone) {
    const k = words.of.includes(at(i + 1)) ? i + 2 : i + 1;
    const m = article(k) ? k + 1 : k;
    return words.aUnits.includes(at(m)) ? made(partAlone, m) : undefined;
  }
  if (skipA > i && !words.hundred.includes(at(skipA)) && !words.thousand.includes(at(skipA))) return undefined;

  // "six tenths", "three quarters"
  const n0 = small(i);
  const frac = words.fractions[at(i + 1)] ?? (n0 && n0 > 1 ? words.parts[at(i + 1)] : undefined);
  if (n0 !== undefined && frac) return made(n0 * frac, i + 2);

  // "zero zero point three" is what a meter shows
  const zero = (k: number) => small(k) === 0 || words.zeroInside.includes(at(k));
  const begin = zero(skipA) && zero(skipA + 1) && words.point.includes(at(skipA + 2)) ? skipA + 1 : skipA;
  const whole = integer(tokens, begin, words);
  let value = whole?.value ?? 0;
  let to = whole?.to ?? i;
  if (words.point.includes(at(to)) && (whole || tokens[to]?.kind === 'word')) {
    const after = decimals(tokens, to + 1, words);
    if (after) {
      value = Number(`${value}.${after.digits}`);
      to = after.to;
      return made(value, to);
    }
  }
  if (!whole) return undefined;
  const part = andAPart(tokens, to, words);
  if (part) return made(value + part.add, part.to);
  // nothing is called "the zero"
  if (
    whole.to === i + 1 &&
    value > 0 &&
    value <= 4 &&
    (words.notBeforeOne.includes(at(i - 1)) || words.notAfterOne.includes(at(i + 1)))
  )
    return undefined;
  return made(value, to);
}

function decimals(tokens: Token[], i: number, words: NumberWords): { digits: string; to: number } | undefined {
  let digits = '';
  let k = i;
  for (; k < tokens.length; k++) {
    const t = tokens[k]?.text ?? '';
    if (tokens[k]?.kind === 'number' && /^\d+$/.test(t) && !digits) digits += t;
    else if (words.zeroInside.includes(t)) digits += '0';
    else if (Object.hasOwn(words.small, t)) {
      // "point twenty five" is .25
      const tens = words.small[t] ?? 0;
      const at = words.tensJoin.includes(tokens[k + 1]?.text ?? '') ? k + 2 : k + 1;
      const one = words.small[tokens[at]?.text ?? ''] ?? 0;
      const joined = tens >= 20 && tens % 10 === 0 && one > 0 && one < 10;
      digits += String(joined ? tens + one : tens);
      if (joined) k = at;
    } else break;
  }
  return digits ? { digits, to: k } : undefined;
}

/** "one nineteen", "two oh eight", "two hundred and forty", "fifty four hundred", "one two zero", "fifty thousand". */
function integer(tokens: Token[], i: number, words: NumberWords): { value: number; to: number } | undefined {
  const at = (k: number) => tokens[k]?.text ?? '';
  const small = (k: number): number | undefined =>
    tokens[k]?.kind === 'word' && Object.hasOwn(words.small, at(k)) ? words.small[at(k)] : undefined;
  const isZero = (k: number) => words.zeroInside.includes(at(k)) || small(k) === 0;
  const isHundred = (k: number) => words.hundred.includes(at(k));
  const isThousand = (k: number) => words.thousand.includes(at(k));

  // a row of three or more single digits is read out digit by digit
  let run = '';
  let k = i;
  for (; k < tokens.length && run.length < 8; k++) {
    const d = small(k);
    if (d !== undefined && d < 10) run += d;
    else if (run && words.zeroInside.includes(at(k))) run += '0';
    else break;
  }
  if (run.length >= 3 && !isHundred(k) && (small(k) ?? 0) < 10) return { value: Number(run), to: k };

  const upTo99 = (m: number): { value: number; to: number } | undefined => {
    const a = small(m);
    if (a === undefined) return undefined;
    if (a >= 20 && a % 10 === 0) {
      let u = m + 1;
      if (at(u) === '-' || words.tensJoin.includes(at(u))) u++;
      const b = small(u);
      const c = small(u + 1);
      // "one twenty one nineteen" is 120 and 119
      if (b !== undefined && b > 0 && b < 10 && !(c !== undefined && c >= 10 && u === m + 1) && !(isZero(u + 1) && u === m + 1))
        return { value: a + b, to: u + 1 };
    }
    return { value: a, to: m + 1 };
  };

  const upTo9999 = (m: number): { value: number; to: number } | undefined => {
    const named = tokens[m]?.kind === 'word' && Object.hasOwn(words.hundreds, at(m)) ? words.hundreds[at(m)] : undefined;
    if (named !== undefined) {
      const tail = small(m + 1) ? upTo99(m + 1) : undefined;
      return { value: named + (tail?.value ?? 0), to: tail?.to ?? m + 1 };
    }
    let head = upTo99(m);
    if (!head && isHundred(m)) head = { value: 1, to: m };
    if (!head) return undefined;
    if (isHundred(head.to)) {
      let rest = head.to + 1;
      const joined = words.and.includes(at(rest));
      if (joined) rest++;
      const tail = small(rest) === 0 ? undefined : upTo99(rest);
      if (tail && small(rest) !== undefined) return { value: head.value * 100 + tail.value, to: tail.to };
      return { value: head.value * 100, to: head.to + 1 };
    }
    if (head.value >= 1 && head.value <= 9 && head.to === m + 1) {
      if (isZero(head.to)) {
        const b = small(head.to + 1);
        if (b !== undefined && b < 10) return { value: head.value * 100 + b, to: head.to + 2 };
      }
      const tail = upTo99(head.to);
      if (tail && tail.value >= 10) return { value: head.value * 100 + tail.value, to: tail.to };
    }
    // "fifty four hundred" is taken above; "eighteen fifty" is 1850
    if (head.value >= 10 && head.value <= 19 && head.to === m + 1) {
      const tail = upTo99(head.to);
      if (tail && tail.value >= 20) return { value: head.value * 100 + tail.value, to: tail.to };
    }
    return head;
  };

  const head = upTo9999(i) ?? (isThousand(i) ? { value: 1, to: i } : undefined);
  if (!head) return undefined;
  if (!isThousand(head.to)) return head;
  let rest = head.to + 1;
  if (words.and.includes(at(rest)) && upTo9999(rest + 1)) rest++;
  const tail = upTo9999(rest);
  return tail && tail.value < 1000
    ? { value: head.value * 1000 + tail.value, to: tail.to }
    : { value: head.value * 1000, to: head.to + 1 };
}
