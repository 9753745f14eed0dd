import { describe, expect, test } from 'vitest';
import { gaugeOf } from '../../client/evidence/gauge-of.ts';
import { justOut, moved, speaks } from '../../client/evidence/speaks.ts';
import type { Band } from '../../client/types.ts';
import type { EvidenceRow, SuspectRow } from '../../server/types.ts';

const suspect = (share: number, more: Partial<SuspectRow> = {}): SuspectRow => ({
  faults: ['element-open'],
  label: 'coil open',
  share,
  live: true,
  for: ['Coil: OL'],
  against: [],
  ...more,
});
const row = { seq: 4, label: 'Coil', shown: '10.6 Ω' } as EvidenceRow;

describe('the meter error on a gauge', () => {
  const band: Band = { lo: 9, hi: 11, unit: 'Ω', from: [] };
  test('spans the reading, and is cut where the drawing ends', () => {
    const { error, mark } = gaugeOf(10.6, band, { lo: 10.4, hi: 10.8 });
    expect(error!.from).toBeLessThan(mark!.at);
    expect(error!.to).toBeGreaterThan(mark!.at);
    const edge = gaugeOf(12.9, band, { lo: 12.5, hi: 14 });
    expect(edge.error!.to).toBeLessThanOrEqual(192);
  });
  test('is not drawn where the reading is beyond the drawing, or where no error is known', () => {
    expect(gaugeOf(400, band, { lo: 390, hi: 410 }).error).toBeUndefined();
    expect(gaugeOf(10, band).error).toBeUndefined();
    expect(gaugeOf('open', { lo: 1e12, hi: 0, unit: 'Ω', open: true, from: [] }, { lo: 1, hi: 2 }).error).toBeUndefined();
  });
});

describe('a suspect', () => {
  test('speaks by readings, each with the number it would have given', () => {
    const one = suspect(0.2, { speaks: [{ seq: 4, is: 'against', would: 'OL' }] });
    expect(speaks(one, [row], 'against')).toEqual([{ text: 'Coil: 10.6 Ω', would: 'OL' }]);
    expect(speaks(one, [row], 'for')).toEqual([]);
    expect(speaks(suspect(0.2), [row], 'for')).toEqual([{ text: 'Coil: OL' }]);
  });
  test('has moved only where the eye would see it, and was there before', () => {
    expect(moved(suspect(0.5), [suspect(0.2)])).toEqual({ up: true, from: 0.2 });
    expect(moved(suspect(0.1), [suspect(0.2)])).toEqual({ up: false, from: 0.2 });
    expect(moved(suspect(0.21), [suspect(0.2)])).toBeUndefined();
    expect(moved(suspect(0.5), [suspect(0.2, { live: false })])).toBeUndefined();
    expect(moved(suspect(0.5), undefined)).toBeUndefined();
  });
  test('is just out if it stood in the reply before', () => {
    const out = suspect(0, { live: false });
    expect(justOut(out, [suspect(0.2)])).toBe(true);
    expect(justOut(out, [out])).toBe(false);
    expect(justOut(out, undefined)).toBe(false);
  });
});
