import type { Answer, Audience, Circuit, Knowledge, MachineInHand, Prepared } from '../../../rules/types.ts';
import { type Standing, stand } from './standing.ts';

/**
 * Solves ahead what most cases need: each complaint on each machine, asked up to the first check that is worth its minutes. Nothing that is
 * said depends on it; the first person of the day only waits less. `pause` is awaited between steps, so that who comes meanwhile is heard.
 */
export async function warm(
  k: Knowledge,
  prepared: (machine: MachineInHand) => Prepared,
  pause: () => Promise<void>,
): Promise<void> {
  for (const family of k.families.values()) {
    await upToTheChecks(k, prepared, pause, 'homeowner', family.id);
    for (const machine of k.machines.values()) await upToTheChecks(k, prepared, pause, 'technician', family.id, machine);
  }
}

/** Whoever reads live volts is asked the most: what the others are asked is among it. */
const SAID: Record<string, string> = { qualified: 'yes' };
// More gates than any list has: a list that never ends would be a fault of the knowledge, and is found by its own tests.
const MOST = 30;

async function upToTheChecks(
  k: Knowledge,
  prepared: (machine: MachineInHand) => Prepared,
  pause: () => Promise<void>,
  audience: Audience,
  family: string,
  machine?: Circuit,
): Promise<void> {
  const record: Standing['record'] = { audience, settings: { families: [family] }, answers: [] };
  for (let turn = 1; turn <= MOST; turn++) {
    await pause();
    const { c } = await stand({ k, prepared }, record);
    const gate = c.next?.why === 'gate' ? k.checks.get(c.next.check) : undefined;
    if (!gate) return;
    record.answers = [
      ...record.answers,
      ...gate.settles.map((fact, i): Answer => {
        const value =
          SAID[fact] ?? machine?.knownBy[fact] ?? gate.choices?.none?.[fact] ?? k.facts.get(fact)?.choices?.[0] ?? 'cannot';
        const seq = record.answers.length + i + 1;
        return { seq, turn, act: 'tell', fact, value, check: gate.id, said: '', by: audience };
      }),
    ];
  }
}
