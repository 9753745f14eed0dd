/**
 * Answers were first stored flat: every key beside every other, lists as words in a row, and a note as a `set` that sets nothing.
 * What is written here turns one such answer into the shape of now; one that has it already, or is none of ours, stays as it is.
 */

interface Flat {
  act: string;
  fact?: string;
  check?: string;
  value?: unknown;
  of?: number;
  set?: object;
  [key: string]: unknown;
}

/** @returns the text of the row as it is to be; the very text given where nothing is to change */
export function answerText(stored: string): string {
  let flat: unknown;
  try {
    flat = JSON.parse(stored);
  } catch {
    // Whoever reads this case is told so; here it is nobody's.
    return stored;
  }
  const now = isFlat(flat) ? asNow(flat) : undefined;
  return now ? JSON.stringify(now) : stored;
}

const isFlat = (a: unknown): a is Flat => typeof a === 'object' && a !== null && typeof (a as Flat).act === 'string';

function asNow(a: Flat): object | undefined {
  switch (a.act) {
    case 'tell':
    case 'correct':
    case 'repeat':
      return told(a);
    case 'unsure':
    case 'declined':
    case 'later':
      return 'about' in a ? undefined : unanswered(a);
    case 'set':
      return a.set === undefined ? noted(a) : undefined;
    default:
      return undefined;
  }
}

const HOW = ['points', 'state', 'lifted', 'lowImpedance'];
function told(a: Flat): object | undefined {
  const taken = Object.fromEntries(HOW.flatMap((key) => (a[key] === undefined ? [] : [[key, a[key]]])));
  if (!Object.keys(taken).length) return undefined;
  const rest = Object.fromEntries(Object.entries(a).filter(([key]) => !HOW.includes(key)));
  return { ...rest, taken };
}

function unanswered({ fact, check, ...rest }: Flat): object {
  return { ...rest, about: { ...(fact !== undefined && { fact }), ...(check !== undefined && { check }) } };
}

/** A note's kind stood where a check stands, and what it held in the keys of a told fact. */
function noted({ check: note, fact, value, of, ...rest }: Flat): object {
  return { ...rest, act: 'note', note, ...held(note, fact, value, of) };
}
function held(note: string | undefined, fact: string | undefined, value: unknown, of: number | undefined): object {
  const whole = fact !== undefined && value !== undefined;
  switch (note) {
    case 'read-back':
      return whole ? { lifting: { fact, value, ...(of !== undefined && { of }) } } : {};
    case 'danger':
      return {
        facts: String(value ?? '')
          .split(' ')
          .filter(Boolean),
      };
    case 'noted':
      return whole ? { item: { name: fact, value } } : {};
    case 'done':
      return { did: fact };
    default:
      return {};
  }
}
