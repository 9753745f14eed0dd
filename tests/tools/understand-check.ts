import checksFile from '../../rules/knowledge/checks.json' with { type: 'json' };
import factsFile from '../../rules/knowledge/facts.json' with { type: 'json' };
import type { Unit } from '../../rules/types.ts';
import wordsFile from '../../server/conversation/words/en/facts.json' with { type: 'json' };
import type { Ask } from '../../server/types.ts';

type Told = string | { technician: string };
const forTechnician = (t: Told | undefined): string => (typeof t === 'string' ? t : (t?.technician ?? ''));
const words = wordsFile.facts as unknown as Record<string, { label: Told; points?: Record<string, Told> }>;
const listOf = <T>(file: unknown, key: string): T[] => {
  const inner = Array.isArray(file) ? file : ((file as Record<string, unknown>)[key] ?? file);
  return (Array.isArray(inner) ? inner : Object.values(inner as object)) as T[];
};
const units = new Map(listOf<{ id: string; unit?: Unit }>(factsFile, 'facts').map((f) => [f.id, f.unit]));
const checks = listOf<{ id: string; measure?: { reads: { fact: string }[] } }>(checksFile, 'checks');

/** The open question of one measuring check, with the labels and points a technician is shown. */
export function measuring(check: string, machine = 'dial-single-coil'): Ask {
  const reads = checks.find((c) => c.id === check)?.measure?.reads ?? [];
  return {
    check,
    text: '',
    kind: 'readings',
    choices: [],
    reads: reads.map(({ fact }) => ({
      fact,
      label: forTechnician(words[fact]?.label),
      unit: units.get(fact) ?? '1',
      points: ['', ''],
      pointWords: forTechnician(words[fact]?.points?.[machine] ?? words[fact]?.points?.['*']),
    })),
    why: '',
    cautions: [],
    min: 1,
    covers: [],
    stateWords: '',
  };
}
