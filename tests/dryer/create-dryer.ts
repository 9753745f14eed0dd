import type { Check } from '../../rules/types.ts';
import { buildDryer, type Dryer, type DryerOptions, type Measure, type Shown } from './dryer.ts';
import { sense } from './senses.ts';

/** The outside referee: a dryer in a circuit simulator and a truthful person in front of it. */
export interface TalkingDryer extends Dryer {
  /** A choice fact by its id; with `how`, a reading. 'cannot' = this machine has no such thing. */
  tell(fact: string, how?: Measure): Promise<Shown | string>;
  /** Everything one check gives on this machine: fact -> answer. */
  answer(check: Pick<Check, 'settles' | 'measure' | 'state'>): Promise<Record<string, Shown | string>>;
}

/**
 * Builds a dryer with its faults. Values are a little off the nominal on purpose (coil +2 %, supply 241 V, odd house loads).
 * Throws on a machine, fault, system or hookup that does not exist, and on a fault the machine cannot have.
 */
export function createDryer(options: DryerOptions): TalkingDryer {
  const dryer = buildDryer(options);
  const tell = (fact: string, how?: Measure) => (how ? dryer.measure(how) : sense(dryer, fact));
  return {
    ...dryer,
    tell,
    async answer(check) {
      const answers: Record<string, Shown | string> = {};
      for (const fact of check.settles) {
        const how = measureOf(check, fact, dryer.machine);
        answers[fact] = check.measure && !how ? 'cannot' : await tell(fact, how);
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
