import { parseArgs } from 'node:util';
import type { MachineInHand, Unit, Value } from '../../rules/types.ts';
import { createConversation } from '../../server/conversation/index.ts';
import type { Conversation, QuickReading } from '../../server/conversation-port.ts';
import { readingInput } from '../../server/shapes/input.ts';

const HELP = `One reading judged at the terminal, by the same rules as a case.

  npm run reading -- --check coil-ohms --value 9.8 --plate 5400W/240V

  --check ID         what was measured; --list shows all
  --value VALUE      9.8, 9.8ohm, 1.2k, OL, or a word
  --fact ID          which of the check's readings (the first, if not said)
  --unit UNIT        V, ohm, A, W, C, min, Pa, m/s
  --plate W/V        watts and volts of the rating plate, like 5400W/240V or 24A/240V
  --heater W         watts of the heater alone, where the plate tells them
  --machine ID       kind of machine
  --meter ID         kind of meter
  --hookup KIND      three-wire, four-wire
  --leads OHM        resistance of the leads, touched together
  --lifted           one lead of the part is off
  --low-impedance    read on low impedance
  --json             the answer as data
  --list             all checks`;

/** A mistake at the terminal; the sentence says what would be right. */
class BadInput extends Error {}

type Print = (text: string) => void;

export async function main(args: string[]): Promise<number> {
  return run(args, await createConversation(), console.log, console.error);
}

/** @returns the exit code: 0 judged, 2 for input that cannot be used */
export async function run(args: string[], conversation: Conversation, print: Print, complain: Print): Promise<number> {
  try {
    const { asked, json, list, help } = readArguments(args);
    if (help) print(HELP);
    else if (list)
      print(
        conversation
          .catalogue()
          .checks.map((c) => `${c.id}  ${c.label}`)
          .join('\n'),
      );
    else print(shown(await judge(asked, conversation), json));
    return 0;
  } catch (e) {
    if (!(e instanceof BadInput)) throw e;
    complain(e.message);
    return 2;
  }
}

async function judge(asked: Record<string, unknown>, conversation: Conversation): Promise<QuickReading> {
  const { checks } = conversation.catalogue();
  if (!asked.check) throw new BadInput('Which check? Say --check ID. See all with --list, and all options with --help.');
  if (!checks.some((c) => c.id === asked.check)) {
    const close = closest(String(asked.check), checks).map((c) => `  ${c.id}  ${c.label}`);
    throw new BadInput(`There is no check "${asked.check}". The closest are:\n${close.join('\n')}`);
  }
  if (asked.value === undefined) throw new BadInput('What did it read? Say --value, like --value 9.8 or --value OL.');
  const body = readingInput.safeParse(asked);
  if (!body.success) throw new BadInput(body.error.issues.map((i) => `${i.path.join('.')}: ${i.message}`).join('\n'));
  const judged = await conversation.reading(body.data);
  if ('problem' in judged) throw new BadInput(judged.problem.message);
  return judged;
}

function readArguments(args: string[]) {
  const text = { type: 'string' } as const;
  const flag = { type: 'boolean' } as const;
  // "--value -5" reads as two options otherwise.
  const joined = args.reduce<string[]>((done, arg) => {
    const last = done.at(-1);
    if (/^-[\d.]/.test(arg) && last?.startsWith('--') && !last.includes('=')) done[done.length - 1] = `${last}=${arg}`;
    else done.push(arg);
    return done;
  }, []);
  let values: Record<string, string | boolean | undefined>;
  try {
    ({ values } = parseArgs({
      args: joined,
      options: {
        check: text,
        value: text,
        fact: text,
        unit: text,
        plate: text,
        heater: text,
        machine: text,
        meter: text,
        hookup: text,
        leads: text,
        lifted: flag,
        'low-impedance': flag,
        json: flag,
        list: flag,
        help: flag,
      },
    }));
  } catch (e) {
    throw new BadInput(`${(e as Error).message.split('. ')[0]}. See all options with --help.`);
  }
  const word = (name: string) => (typeof values[name] === 'string' ? (values[name] as string).trim() : undefined);
  const value = word('value');
  const read = value === undefined ? undefined : readValue(value);
  const unit = word('unit');
  const plate = readPlate(word('plate'), word('heater'));
  const leads = word('leads');
  const all = {
    check: word('check'),
    fact: word('fact'),
    value: read?.value,
    unit: unit === undefined ? read?.unit : unitOf(unit).unit,
    plate,
    machine: word('machine'),
    meter: word('meter'),
    hookup: word('hookup'),
    leads_ohm: leads === undefined ? undefined : amount(leads, 'Ω', '--leads'),
    lifted: values.lifted,
    lowImpedance: values['low-impedance'],
  };
  const asked = Object.fromEntries(Object.entries(all).filter(([, v]) => v !== undefined));
  return { asked, json: values.json === true, list: values.list === true, help: values.help === true };
}

const UNITS: [RegExp, Unit, number][] = [
  [/^(v|volts?)$/i, 'V', 1],
  [/^(Ω|ohms?|r)$/i, 'Ω', 1],
  [/^(k|kΩ|kohms?)$/i, 'Ω', 1e3],
  [/^(MΩ|megohms?)$/, 'Ω', 1e6],
  [/^(a|amps?)$/i, 'A', 1],
  [/^(w|watts?)$/i, 'W', 1],
  [/^(kw)$/i, 'W', 1e3],
  [/^(°?c)$/i, '°C', 1],
  [/^(min|minutes?)$/i, 'min', 1],
  [/^(pa)$/i, 'Pa', 1],
  [/^(m\/s)$/i, 'm/s', 1],
];
function unitOf(said: string): { unit: Unit; times: number } {
  const found = UNITS.find(([pattern]) => pattern.test(said.trim()));
  if (!found) throw new BadInput(`"${said}" is not a unit I know. Use one of V, ohm, A, W, C, min, Pa, m/s.`);
  return { unit: found[1], times: found[2] };
}

const NUMBER = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(.*)$/i;
function readValue(said: string): { value: Value; unit?: Unit } {
  if (/^(o\.?l\.?|open|over|infinite|∞)$/i.test(said)) return { value: 'open' };
  const found = NUMBER.exec(said);
  if (!found) return { value: said };
  const number = Number(found[1]);
  if (!Number.isFinite(number)) throw new BadInput(`"${said}" is too large to be a reading. Say OL for over range.`);
  if (!found[2]) return { value: number };
  const { unit, times } = unitOf(found[2]);
  return { value: number * times, unit };
}
function amount(said: string, unit: Unit, option: string): number {
  const read = readValue(said);
  if (typeof read.value === 'number' && (read.unit === undefined || read.unit === unit)) return read.value;
  throw new BadInput(`${option} is "${said}". It must be a number in ${unit}.`);
}

function readPlate(said: string | undefined, heater: string | undefined): MachineInHand['plate'] | undefined {
  if (said === undefined && heater === undefined) return undefined;
  const plate: MachineInHand['plate'] = {};
  for (const part of said?.split(/[/,]/) ?? []) {
    const { value, unit } = readValue(part.trim());
    if (typeof value === 'number' && value > 0 && unit === 'V') plate.volts = value;
    else if (typeof value === 'number' && value > 0 && unit === 'W') plate.total_w = value;
    else if (typeof value === 'number' && value > 0 && unit === 'A') plate.amps = value;
    else throw new BadInput(`"${said}" is not a rating plate I can read. Write it like 5400W/240V or 24A/240V.`);
  }
  if (heater !== undefined) plate.heater_w = amount(heater, 'W', '--heater');
  return plate;
}

/** The three checks nearest to what was typed: words in common first, then the fewest letters to change. */
export function closest<T extends { id: string; label: string }>(typed: string, checks: readonly T[]): T[] {
  const words = (s: string) =>
    new Set(
      s
        .toLowerCase()
        .split(/[^a-z0-9]+/)
        .filter(Boolean),
    );
  const mine = words(typed);
  const score = (c: T) => {
    const theirs = words(`${c.id} ${c.label}`);
    const shared = [...mine].filter((w) => theirs.has(w)).length;
    return shared * 100 - distance(typed.toLowerCase(), c.id);
  };
  return checks
    .map((c) => ({ c, score: score(c) }))
    .toSorted((a, b) => b.score - a.score)
    .slice(0, 3)
    .map(({ c }) => c);
}

/** Letters to add, drop or change to get from one word to the other. */
function distance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next[j] = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
    row = next;
  }
  return row[b.length]!;
}

function shown(judged: QuickReading, json: boolean): string {
  if (json) return JSON.stringify(judged, null, 2);
  const { label, shown, verdict, verdictWords, expectedShown, expected, because, how, sources, cautions = [] } = judged;
  const band = expectedShown ?? (expected && `${expected.lo} to ${expected.hi} ${expected.unit}`);
  return [
    `${label}: ${shown}`,
    `Verdict: ${verdict} (${verdictWords})`,
    `Expected: ${band ?? 'nothing to hold it against'}`,
    `Why: ${because}`,
    ...how.map((step) => `  - ${step}`),
    ...sources.map((source) => `Source: ${source}`),
    ...cautions.map((caution) => `Caution: ${caution}`),
  ].join('\n');
}
