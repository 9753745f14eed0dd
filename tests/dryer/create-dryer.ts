import type { Check } from '../../rules/types.ts';
import { buildDryer, type Dryer, type DryerOptions, type Measure, type Shown } from './dryer.ts';
import { sense } from './senses.ts';
import { type SlipKind, slipped } from './slips.ts';

/** One mistake at one place: this reading of this check, every time it is taken. */
export interface Slip {
  check: string;
  fact: string;
  kind: SlipKind;
}
/** `slip` as a place and a kind works on what `answer` gives; as a function it works on every reading. */
export type TalkingOptions = Omit<DryerOptions, 'slip'> & { slip?: DryerOptions['slip'] | Slip };
type Asked = Pick<Check, 'settles' | 'measure' | 'state'> & Partial<Pick<Check, 'id'>>;

/** The outside referee: a dryer in a circuit simulator and a truthful person in front of it. */
export interface TalkingDryer extends Dryer {
  /** A choice fact by its id; with `how`, a reading. 'cannot' = this machine has no such thing. */
  tell(fact: string, how?: Measure): Promise<Shown | string>;
  /** Everything one check gives on this machine: fact -> answer. */
  answer(check: Asked): Promise<Record<string, Shown | string>>;
}

/**
 * Builds a dryer with its faults. Values are a little off the nominal on purpose (coil +2 %, supply 241 V, odd house loads).
 * Throws on a machine, fault, system or hookup that does not exist, and on a fault the machine or its cord cannot have.
 */
export function createDryer({ slip, ...options }: TalkingOptions): TalkingDryer {
  const dryer = buildDryer(typeof slip === 'function' ? { ...options, slip } : options);
  const place = typeof slip === 'object' ? slip : undefined;
  const tell = (fact: string, how?: Measure) => (how ? dryer.measure(how) : sense(dryer, fact));
  return {
    ...dryer,
    tell,
    async answer(check) {
      const answers: Record<string, Shown | string> = {};
      for (const fact of check.settles) {
        const how = measureOf(check, fact, dryer.machine);
        const mistake = place && how && place.check === check.id && place.fact === fact ? slipped(place.kind, how) : undefined;
        const read = check.measure?.reads.some((one) => one.fact === fact);
        if (mistake) answers[fact] = mistake.told(await dryer.measure(mistake.taken));
        else answers[fact] = read && !how ? 'cannot' : await tell(fact, how);
      }
      return answers;
    },
  };
}

function measureOf({ measure, state }: Pick<Check, 'measure' | 'state'>, fact: string, machine: string): Measure | undefined {
  const read = measure?.reads.find((one) => one.fact === fact);
  if (!measure || !read) return undefined;
  const points = read.points[machine] ?? read.points['*'];
  const branch = read.branch?.[machine] ?? read.branch?.['*'];
  if (measure.what === 'amps' ? !branch : !points) return undefined;
  const lift = measure.lift?.[machine] ?? measure.lift?.['*'];
  return {
    what: measure.what,
    state,
    lowImpedance: measure.lowImpedance,
    ...(points && { points }),
    ...(branch && { branch }),
    ...(lift && { lift }),
  };
}
