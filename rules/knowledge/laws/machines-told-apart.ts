import type { MachineFile } from '../machine.ts';
import type { Law } from './law.ts';

/** Of any two machines some fact has one answer on the one and another on the other; else no question could ever tell them apart. */
export const machinesToldApart: Law = ({ machines, facts }) => [
  ...machines.flatMap((m) =>
    Object.entries(m.knownBy)
      .filter(([fact, answer]) => facts.get(fact)?.noEvidence?.includes(answer))
      .map(([fact, answer]) => `machines/${m.id}.json, knownBy.${fact}: "${answer}" says nothing, so it tells no machine`),
  ),
  ...machines.flatMap((m, i) =>
    machines
      .slice(i + 1)
      .filter((other) => !toldApart(m, other))
      .map(
        (other) =>
          `machines/${m.id}.json and machines/${other.id}.json, knownBy: the same answers tell both; one fact should have another answer on each`,
      ),
  ),
];

const toldApart = (one: MachineFile, other: MachineFile): boolean =>
  Object.entries(one.knownBy).some(([fact, answer]) => fact in other.knownBy && other.knownBy[fact] !== answer);
