import { byTable_c, limit, thermistorCurves } from '../../../rules/index.ts';
import type { Check, Measured } from '../../../rules/types.ts';
import type { Ask, Curves } from '../../types.ts';
import { healthyBand } from '../stand/ask.ts';
import { plateKnown } from '../stand/plate.ts';
import type { Saying } from '../stand/said.ts';
import { newest } from '../stand/standing.ts';
import { finite } from './evidence.ts';

/** The curves that the open question or what was read concerns. */
export function curvesOf(x: Saying, ask: Ask | undefined): Curves {
  const asked = new Set(ask?.reads.map((r) => r.fact));
  const thermistor = thermistorOf(x, asked);
  const supply = supplyOf(x, asked);
  const heat = heatOf(x, asked);
  return { ...(thermistor && { thermistor }), ...(supply && { supply }), ...(heat && { heat }) };
}

const numberRead = ({ at }: Pick<Saying, 'at'>, fact: string): number | undefined => {
  const value = newest(at.facts, fact)?.value;
  return typeof value === 'number' ? value : undefined;
};
const allReads = ({ k }: Pick<Saying, 'k'>): { check: Check; read: Measured }[] =>
  [...k.checks.values()].flatMap((check) => (check.measure?.reads ?? []).map((read) => ({ check, read })));

function thermistorOf(x: Saying, asked: ReadonlySet<string>): Curves['thermistor'] {
  const here = allReads(x).find(
    ({ read }) => thermistorCurves(read.fact).length > 0 && (asked.has(read.fact) || newest(x.at.facts, read.fact)),
  );
  if (!here) return undefined;
  const { fact } = here.read;
  const curves = thermistorCurves(fact);
  const ohm = numberRead(x, fact);
  return {
    fact,
    label: x.s.fact(fact),
    curves: curves.map(({ id, r25_ohm, beta_k, rows, source, basis }) => ({
      id,
      r25_ohm,
      beta_k,
      rows: rows.map(([c, r]) => [c, r]),
      source,
      basis,
    })),
    ...(ohm !== undefined && {
      reading: { ohm, at_c: curves.map(({ rows }) => tenth(byTable_c(rows, ohm))) },
    }),
  };
}
const tenth = (value: number | undefined): number | null => (value === undefined ? null : Math.round(value * 10) / 10);

/** A check under load is judged against a reading at rest (`scaledBy`); its readings pair with those at the same points. */
function supplyOf(x: Saying, asked: ReadonlySet<string>): Curves['supply'] {
  const { k, s } = x;
  const loaded = [...k.checks.values()].filter((c) => c.measure?.scaledBy !== undefined);
  const here =
    loaded.find((c) => c.measure!.reads.some((r) => asked.has(r.fact))) ??
    loaded.findLast((c) => c.measure!.reads.some((r) => numberRead(x, r.fact) !== undefined));
  const atRest = allReads(x).find(({ read }) => read.fact === here?.measure?.scaledBy)?.check;
  if (!here || !atRest) return undefined;
  const rows = here.measure!.reads.flatMap((loadRead) => {
    const idleRead = atRest.measure!.reads.find((r) => JSON.stringify(r.points) === JSON.stringify(loadRead.points));
    const idle_v = idleRead && numberRead(x, idleRead.fact);
    const load_v = numberRead(x, loadRead.fact);
    const least_v = healthyBand(x, here, loadRead.fact)?.lo;
    if (idle_v === undefined && load_v === undefined) return [];
    return [
      {
        label: s.fact(loadRead.fact),
        ...(idle_v !== undefined && { idle_v }),
        ...(load_v !== undefined && { load_v }),
        ...(least_v !== undefined && { least_v: Math.round(least_v * 10) / 10 }),
      },
    ];
  });
  return rows.length > 0 ? rows : undefined;
}

/** Heat goes with the square of the voltage between the legs; the coil's ohms are taken as they are hot. */
function heatOf(x: Saying, asked: ReadonlySet<string>): Curves['heat'] {
  const { k, s, at } = x;
  const circuit = at.p.circuits[0];
  const pairs = new Set(k.supply.legPairs.map((p) => p.join()));
  const betweenLegs = allReads(x).filter(
    ({ check, read }) => check.measure?.what === 'volts' && Object.values(read.points).some((p) => pairs.has(p.join())),
  );
  const last = at.facts.readings.findLast(
    (r) => typeof r.value === 'number' && betweenLegs.some(({ read }) => read.fact === r.fact),
  );
  const here = betweenLegs.find(({ read }) => (last ? read.fact === last.fact : asked.has(read.fact)));
  if (!here || !circuit) return undefined;
  const { plate } = at.hand;
  const motor = limit(k, 'motor-share-of-plate');
  const volts_v = plate.volts ?? circuit.plate.volts;
  const told_w = plate.heater_w ?? (plate.total_w === undefined ? undefined : plate.total_w - (motor.lo + motor.hi) / 2);
  const watts_w = told_w ?? circuit.plate.heater_w;
  const expected = healthyBand(x, here.check, here.read.fact);
  return {
    plate: { volts_v, watts_w: Math.round(watts_w), known: plateKnown(plate) },
    ...(typeof last?.value === 'number' && {
      reading: {
        label: s.fact(last.fact),
        volts_v: last.value,
        watts_w: Math.round(watts_w * (last.value / volts_v) ** 2),
      },
    }),
    ...(expected && { expected: finite(expected) }),
  };
}
