import { describe, expect, test } from 'vitest';
import faultsFile from '../../rules/knowledge/faults.json' with { type: 'json' };
import { buildNet, LEAK_S, type Net, solve, takesHold } from '../../rules/physics/index.ts';
import type { Circuit, Fault } from '../../rules/types.ts';
import { between, size, solve as spice, through } from '../dryer/spice.ts';
import { MACHINES, METERS, STATES, SUPPLY } from '../rules/physics/knowledge.ts';

/**
 * Our solver against ngspice, on the same net: what it makes of contacts, faults and states is taken as given here, and every voltage,
 * current and resistance that follows must be the same. Independent are the arithmetic and the way a net is written down.
 */
const HZ = 60;
const meter = METERS.get('meter-4000-count')!;
const faults = faultsFile.faults as unknown as Fault[];
const AMMETERS = ['cordA', 'cordB'];

function netlist(net: Net, how: { read?: readonly [string, string]; input_ohm?: number; inject?: boolean }): string {
  const at = (node: string) => (node === SUPPLY.reference ? '0' : node);
  const lines = ['net'];
  for (const { node, re, im } of net.sources)
    lines.push(`V${node} ${node} 0 dc 0 ac ${how.inject ? 0 : Math.hypot(re, im)} ${(Math.atan2(im, re) * 180) / Math.PI}`);
  for (const b of net.branches) {
    const name = b.id.replaceAll('-', '_');
    const from = AMMETERS.includes(b.id) ? `amp_${name}` : at(b.a);
    if (AMMETERS.includes(b.id)) lines.push(`Vamp_${name} ${at(b.a)} ${from} 0`);
    if (b.im_ohm === 0) lines.push(`R${name} ${from} ${at(b.b)} ${b.re_ohm}`);
    else
      lines.push(`R${name} ${from} mid_${name} ${b.re_ohm}`, `L${name} mid_${name} ${at(b.b)} ${b.im_ohm / (2 * Math.PI * HZ)}`);
  }
  for (const { id } of [...net.supply.nodes, ...net.circuit.nodes])
    if (id !== SUPPLY.reference) lines.push(`Rleak_${id} ${id} 0 ${1 / LEAK_S}`);
  if (how.read && how.input_ohm) lines.push(`Rmeter ${at(how.read[0])} ${at(how.read[1])} ${how.input_ohm}`);
  if (how.read && how.inject) lines.push(`Itest ${at(how.read[1])} ${at(how.read[0])} dc 0 ac 1`);
  lines.push(`.ac lin 1 ${HZ} ${HZ}`, '.end');
  return lines.join('\n');
}
// ngspice has no voltage of node 0.
const apart = (solved: Awaited<ReturnType<typeof spice>>, a: string, b: string): number => {
  solved.set('0', { re: 0, im: 0 });
  const at = (node: string) => (node === SUPPLY.reference ? '0' : node);
  return size(between(solved, at(a), at(b)));
};
const near = (ours: number, theirs: number, least: number) =>
  expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(Math.max(0.001 * theirs, least));

const LIVE = ['run-high', 'run-noheat', 'idle-heat', 'run-low', 'run-auto-satisfied', 'idle-off'];
const DEAD = ['unplugged-heat', 'unplugged-off', 'unplugged-low', 'unplugged-start'];
const fits = (fault: Fault, circuit: Circuit) =>
  fault.fits.every((a) => circuit.attributes.includes(a)) && fault.effects.some((e) => takesHold(SUPPLY, circuit, e));
/** Every fault of every machine, each in another state, on both kinds of cord. */
const cases = [...MACHINES.values()].flatMap((circuit) =>
  faults
    .filter((fault) => fits(fault, circuit))
    .map((fault, i) => ({
      circuit,
      fault,
      machine: circuit.id,
      live: LIVE[i % LIVE.length]!,
      dead: DEAD[i % DEAD.length]!,
      hookup: i % 3 === 2 ? ('three-wire' as const) : ('four-wire' as const),
      system: ['split240', 'wye208', 'high-leg'][i % 3]!,
    })),
);
/** Where a person would put the leads: across every branch of the machine, and the posts to each other. */
const places = (circuit: Circuit): [string, string][] => [
  ['L1', 'L2'],
  ['L1', 'N'],
  ['L2', 'N'],
  ['G', 'E'],
  ...circuit.branches.map((b): [string, string] => [b.a, b.b]),
];
let compared = 0;

describe.each(cases)('$machine, $fault.id', ({ circuit, fault, live, dead, hookup, system }) => {
  const options = { hookup, system, effects: fault.effects };
  test(`volts and amps, ${live}`, async () => {
    const net = buildNet(SUPPLY, circuit, STATES.get(live)!, options);
    const ours = solve(net);
    const theirs = await spice(netlist(net, {}));
    for (const [a, b] of places(circuit)) {
      near(ours.volts(a, b, meter.input_ohm)!.open_v, apart(theirs, a, b), 0.01);
      compared += 1;
    }
    for (const id of AMMETERS) if (!net.open.includes(id)) near(ours.amps(id)!, size(through(theirs, `vamp_${id}`)), 0.001);
  });
  test(`volts with a meter there, ${live}`, async () => {
    const net = buildNet(SUPPLY, circuit, STATES.get(live)!, options);
    const ours = solve(net);
    const points = places(circuit);
    for (const [i, input_ohm] of [meter.input_ohm, meter.lowImpedance_ohm].entries()) {
      const [a, b] = points[(faults.indexOf(fault) + 7 * i) % points.length]!;
      near(ours.volts(a, b, input_ohm)!.volts, apart(await spice(netlist(net, { read: [a, b], input_ohm })), a, b), 0.01);
      compared += 1;
    }
  });
  test(`ohms, ${dead}`, async () => {
    const net = buildNet(SUPPLY, circuit, STATES.get(dead)!, options);
    const ours = solve(net);
    const points = places(circuit);
    for (const step of [0, 1, 5, 11]) {
      const [a, b] = points[(faults.indexOf(fault) + step) % points.length]!;
      const shown = ours.ohms(a, b, meter.over_range_ohm);
      const theirs = apart(await spice(netlist(net, { read: [a, b], inject: true })), a, b);
      if (shown === 'open') expect(theirs).toBeGreaterThan(meter.over_range_ohm);
      else near(shown!, theirs, 1e-6);
      compared += 1;
    }
  });
});

test('enough was compared', () => {
  expect(cases.length).toBeGreaterThan(130);
  expect(compared).toBeGreaterThan(2000);
});
