import type { Law } from './law.ts';

/** An answer that says nothing is no sign of anything. */
export const signs: Law = (shelf) => {
  const out: string[] = [];
  for (const fault of shelf.faults.values()) {
    const fields = [
      ['signs', fault.signs] as const,
      ...Object.entries(fault.signsIn ?? {}).map(([f, s]) => [`signsIn.${f}`, s] as const),
    ];
    for (const [field, told] of fields)
      for (const [fact, answers] of Object.entries(told))
        for (const answer of Object.keys(answers))
          if (shelf.facts.get(fact)?.noEvidence?.includes(answer))
            out.push(`faults.json, fault "${fault.id}", ${field}.${fact}: "${answer}" says nothing, so it cannot be a sign`);
  }
  return out;
};
