import type { CheckFile } from '../check.ts';
import { orDidYouMean } from '../closest.ts';
import { type Places, pointsOf } from '../place.ts';
import { branchesBetween, fitsMachine, placeOn } from '../resolve.ts';
import type { Shelf } from '../shelf.ts';
import type { Law } from './law.ts';

const UNIT_OF = { volts: 'V', ohms: 'Ω', amps: 'A' } as const;

/** A reading is a quantity in its own unit, settled by its check, and read by no other: points and state are told from the fact. */
export const readings: Law = (shelf) => {
  const out: string[] = [];
  const readBy = new Map<string, string>();
  for (const check of shelf.checks.values()) {
    const { measure } = check;
    for (const { fact: id } of measure?.reads ?? []) {
      const where = `checks.json, check "${check.id}", measure of "${id}"`;
      const fact = shelf.facts.get(id);
      if (!check.settles.includes(id)) out.push(`${where}: the check does not settle it; add it to settles`);
      if (fact?.kind === 'choice') out.push(`${where}: is a choice; what a meter shows is a quantity`);
      else if (fact && fact.unit !== UNIT_OF[measure!.what])
        out.push(`${where}: ${measure!.what} are in ${UNIT_OF[measure!.what]}, the fact is in ${fact.unit}`);
      const other = readBy.get(id);
      if (other !== undefined)
        out.push(`${where}: check "${other}" measures it too; points and state must be told from the fact`);
      readBy.set(id, check.id);
    }
  }
  return out;
};

/** Every machine a check fits has the places it reads across, one wire where a clamp goes round, and the lead it lifts. */
export const placesOnMachines: Law = (shelf) =>
  shelf
    .list<CheckFile>('checks.json')
    .flatMap((check) => placesOf(shelf, check).map((p) => `checks.json, check "${check.id}", ${p}`));

function placesOf(shelf: Shelf, check: CheckFile): string[] {
  const out: string[] = [];
  const { measure } = check;
  if (!measure || !shelf.supply) return out;
  for (const { fact, across } of measure.reads) {
    const at = `measure of "${fact}"`;
    if ((across === undefined) !== (check.anywhere === true))
      out.push(
        `${at}, across: ${check.anywhere ? 'is read anywhere, so it has no place' : 'is missing; the place it is read across'}`,
      );
    if (across === undefined || !shelf.names('place').has(across)) continue;
    for (const m of shelf.fitting(check.fits)) {
      const place = placeOn(shelf.ground, m, across);
      if (!place) out.push(`${at}, across: "${m.id}" has no place "${across}"; machines/${m.id}.json, places says where it is`);
      else if (measure.what === 'amps') {
        const wires = branchesBetween(shelf.ground, m, pointsOf(place));
        if (wires.length !== 1)
          out.push(`${at}, across: a clamp goes round one wire, and "${across}" on "${m.id}" has ${wires.length}`);
      }
    }
  }
  if (measure.lift !== undefined && shelf.names('lift').has(measure.lift))
    for (const m of shelf.fitting(check.fits))
      if (!m.lifts.some((l) => l.id === measure.lift))
        out.push(`measure.lift: "${m.id}" has no lead "${measure.lift}" that lifts`);
  return out;
}

/** A place nothing reads across is one whose name was misspelt, or one that is not needed. */
export const placesRead: Law = (shelf) => {
  const { supply, machines } = shelf;
  const checks = shelf.list<CheckFile>('checks.json');
  if (!supply || !machines.length || !checks.length) return [];
  const readOn = (fitting: readonly CheckFile[]) =>
    new Set(fitting.flatMap((check) => check.measure?.reads.flatMap((read) => read.across ?? []) ?? []));
  const unread = (file: string, places: Places, read: ReadonlySet<string>) =>
    Object.keys(places)
      .filter((name) => !read.has(name))
      .map((name) => `${file}, places.${name}: no check that fits reads across it${orDidYouMean(name, read)}`);
  return [
    ...unread('supply.json', supply.places, readOn(checks)),
    ...machines.flatMap((m) => unread(`machines/${m.id}.json`, m.places, readOn(checks.filter((c) => fitsMachine(c.fits, m))))),
  ];
};
