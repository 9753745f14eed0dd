import { closest } from '../closest.ts';
import type { Law } from './law.ts';

/** An attribute that one machine alone has, that nothing fits by and that is a slip of the pen away from one something fits by, is that slip. */
export const attributesMeant: Law = ({ machines, faults, checks, facts }) => {
  const named = new Set([
    ...[...faults.values(), ...checks.values()].flatMap(({ fits }) => fits),
    ...[...facts.values()].flatMap((fact) => Object.values(fact.onlyOn ?? {}).flat()),
  ]);
  return machines.flatMap((m) => {
    const own = [
      ...m.attributes.map((attribute) => ({ attribute, field: 'attributes' })),
      ...(m.variants ?? []).flatMap((v) => (v.gains ?? []).map((attribute) => ({ attribute, field: `variants.${v.id}.gains` }))),
    ];
    return own.flatMap(({ attribute, field }) => {
      if (named.has(attribute) || machines.some((other) => other !== m && other.attributes.includes(attribute))) return [];
      const near = closest(attribute, named);
      return near === undefined
        ? []
        : [`machines/${m.id}.json, ${field}: nothing fits by "${attribute}"; did you mean "${near}"?`];
    });
  });
};
