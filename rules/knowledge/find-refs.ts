import type { z } from 'zod';
import { fieldOf } from './read-shapes.ts';
import { REFS, type Ref } from './ref.ts';

/** A name of something else, where it stands in an item. */
export interface Found {
  ref: Ref;
  name: string;
  /** The way to it: "signs.hood_air"; an entry of a list by its id, where it has one. */
  field: string;
  /** Names around it, the nearest last: a choice is one of the fact named there. */
  around: readonly { to: Ref['to']; name: string }[];
  /** The records it stands in, the item first. */
  within: readonly object[];
}
interface Spot {
  path: readonly (string | number)[];
  around: Found['around'];
  within: Found['within'];
}
interface Def {
  type: string;
  shape?: Record<string, z.ZodType>;
  element?: z.ZodType;
  items?: z.ZodType[];
  innerType?: z.ZodType;
  keyType?: z.ZodType;
  valueType?: z.ZodType;
  options?: z.ZodType[];
}

/**
 * Every name in an item that its shape declares to be one of something else.
 * @param self  what the item itself is, where names inside it may be its own (an outcome of this very check)
 */
export function findRefs(shape: z.ZodType, item: unknown, self?: { to: Ref['to']; name: string }): Found[] {
  const out: Found[] = [];
  visit(shape, item, { path: [], around: self ? [self] : [], within: [] }, out);
  return out;
}

function visit(shape: z.ZodType, value: unknown, at: Spot, out: Found[]): void {
  if (value === undefined) return;
  const to = REFS.get(shape);
  if (to && typeof value === 'string') {
    if (value !== to.instead) out.push({ ref: to, name: value, field: fieldOf(at.path), around: at.around, within: at.within });
    return;
  }
  const def = defOf(shape);
  if (def.innerType) visit(def.innerType, value, at, out);
  else if (def.options) {
    const meant = def.options.find((option) => option.safeParse(value).success);
    if (meant) visit(meant, value, at, out);
  } else if (Array.isArray(value))
    for (const [i, entry] of value.entries()) visitEntry(def.items?.[i] ?? def.element, entry, i, at, out);
  else if (typeof value === 'object' && value !== null) visitFields(def, value as Record<string, unknown>, at, out);
}
const defOf = (shape: z.ZodType) => shape.def as unknown as Def;
const refOf = (shape: z.ZodType): Ref | undefined => {
  const { innerType } = defOf(shape);
  return REFS.get(shape) ?? (innerType && refOf(innerType));
};
function visitEntry(shape: z.ZodType | undefined, entry: unknown, i: number, at: Spot, out: Found[]): void {
  const id = (entry as { id?: unknown } | null)?.id;
  if (shape) visit(shape, entry, { ...at, path: [...at.path, typeof id === 'string' ? id : i] }, out);
}
function visitFields(def: Def, value: Record<string, unknown>, at: Spot, out: Found[]): void {
  const within = [...at.within, value];
  const key = def.keyType && REFS.get(def.keyType);
  // What stands beside a name belongs to it: { "check": …, "outcome": … }.
  const beside = Object.entries(def.shape ?? {}).flatMap(([field, shape]) => {
    const to = refOf(shape)?.to;
    return to !== undefined && typeof value[field] === 'string' ? [{ to, name: value[field] as string }] : [];
  });
  for (const [field, held] of Object.entries(value)) {
    const here: Spot = { path: [...at.path, field], around: [...at.around, ...beside], within };
    if (key) visit(def.keyType!, field, here, out);
    const shape = def.shape?.[field] ?? def.valueType;
    if (shape) visit(shape, held, key ? { ...here, around: [...here.around, { to: key.to, name: field }] } : here, out);
  }
}
