type Out = Record<string, unknown>;
export interface Scored {
  id: string;
  right: boolean;
  why: string;
  hazard: 'none' | 'found' | 'missed' | 'invented';
  ambiguous: 'none' | 'asked' | 'taken';
  confidentWrong: boolean;
}
const list = (x: unknown): unknown[] => (Array.isArray(x) ? x : x === undefined ? [] : [x]);
const VALUES = [
  'legA',
  'legB',
  'acrossLegs',
  'acrossHeater',
  'neutralGround',
  'ohms',
  'amps',
  'neutral',
  'value',
  'minutes',
  'plateWatts',
  'plateVolts',
  'plateAmps',
  'circuitAmps',
  'lengthFt',
  'elbows90',
  'cyclesToDry',
  'inrush',
];
const facts = (m: Out): Out => (m.facts ?? {}) as Out;
const hazardOf = (m: Out): string | undefined => (m.hazard ?? facts(m).hazard) as string | undefined;
const GROUPS = [
  ['fire', 'burning-smell', 'smoke', 'sparks', 'charred-lint'],
  ['shock', 'tingle'],
  ['wet-live-work', 'water', 'hands-inside'],
  ['door-open-running', 'uncontrolled-heat', 'restarts'],
  ['bypass', 'oversize-breaker'],
  ['hot-plug', 'melted-plug', 'scorched-plug'],
];
const same = (a: string | undefined, b: string | undefined): boolean =>
  a === b || GROUPS.some((g) => g.includes(a ?? '') && g.includes(b ?? ''));

/** One answer held against what was meant; `why` names the first difference. */
export function scoreOne(id: string, want: Out, got: Out): Scored {
  const problems: string[] = [];
  const wantHazard = hazardOf(want) ?? (want.intent === 'hazard' ? 'any' : undefined);
  // asked about in one short question, a danger is not missed; which it is comes with the answer
  const gotHazard = hazardOf(got) ?? (wantHazard !== undefined && got.asksDanger ? wantHazard : undefined);
  const hazard = wantHazard ? (gotHazard ? 'found' : 'missed') : gotHazard ? 'invented' : 'none';
  if (hazard === 'missed') problems.push(`hazard ${wantHazard} missed`);
  if (hazard === 'invented' && !list(want.alsoAccept).includes('burning-smell')) problems.push(`hazard ${gotHazard} invented`);
  if (
    wantHazard &&
    gotHazard &&
    wantHazard !== 'any' &&
    ![gotHazard, ...list(got.hazards)].some((h) => same(wantHazard, h as string))
  )
    problems.push(`hazard ${wantHazard}, not ${gotHazard}`);
  for (const not of list(want.mustNot))
    if (list(got.families).includes(not) || gotHazard === not) problems.push(`must not: ${not}`);
  const mustAsk = want.ambiguous === true && want.intent === undefined;
  const stored = VALUES.filter((k) => got[k] !== undefined && got[k] !== 'ambiguous');
  let confidentWrong = false;
  if (mustAsk) {
    const taken = stored.filter((k) => (want.certain as Out | undefined)?.[k] === undefined && want[k] === undefined);
    if (got.ambiguous !== true && got.intent === undefined) problems.push('should ask back');
    if (taken.length > 0 || got.choice !== undefined || (got.answer !== undefined && got.answer !== 'unsure')) {
      confidentWrong = true;
      problems.push(`stored a guess: ${taken.join()}`);
    }
  } else {
    for (const k of VALUES) {
      const w = want[k];
      if (w === undefined || w === 'ambiguous' || (k === 'value' && typeof w === 'string')) {
        if (
          got[k] !== undefined &&
          !(want.mayInfer as Out | undefined)?.[k] &&
          ['legA', 'legB', 'acrossLegs', 'ohms', 'amps', 'value', 'minutes', 'neutral'].includes(k) &&
          want.intent !== 'correct'
        ) {
          problems.push(`${k}: ${got[k]} was not said`);
          confidentWrong = true;
        }
        continue;
      }
      const g = got[k];
      if (g === undefined) {
        if (!(want.confirmOk && got.ambiguous)) problems.push(`${k}: ${w} missing`);
      } else if (!sameValue(w, g, Boolean(want.approx), want.anyOrder ? [want.legA, want.legB] : undefined)) {
        problems.push(`${k}: ${w}, not ${g}`);
        confidentWrong = true;
      }
    }
    for (const k of ['unit', 'choice', 'plateWatts', 'hadTripped', 'material', 'qualitative', 'mustRefuse']) {
      if (want[k] !== undefined && want[k] !== got[k] && !(want.confirmOk && got.ambiguous))
        problems.push(`${k}: ${want[k]}, not ${got[k]}`);
      if (k === 'choice' && want[k] !== undefined && got[k] !== undefined && want[k] !== got[k]) confidentWrong = true;
    }
    if (want.choice === undefined && got.choice !== undefined) problems.push(`choice ${got.choice} not said`);
    if (want.answer !== undefined) {
      const g = got.answer ?? (got.intent === 'dontknow' ? 'unsure' : undefined);
      if (g !== want.answer && !(want.answer === 'sometimes' && g === 'yes') && !(want.confirmOk && got.ambiguous)) {
        problems.push(`answer ${want.answer}, not ${g}`);
        if (g === 'yes' || g === 'no') confidentWrong = true;
      }
    } else if (want.intent !== undefined && (got.answer === 'yes' || got.answer === 'no'))
      problems.push(`answer ${got.answer} not said`);
    if (
      want.intent !== undefined &&
      want.intent !== 'hazard' &&
      got.intent !== want.intent &&
      !(want.intent === 'dontknow' && (got.answer === 'unsure' || got.ambiguous)) &&
      !(want.confirmOk && got.ambiguous) &&
      !(want.ambiguous && got.ambiguous)
    )
      problems.push(`intent ${want.intent}, not ${got.intent}`);
    if (
      got.ambiguous === true &&
      !want.confirmOk &&
      want.ambiguous !== true &&
      !(want.language && list(want.families).length > 0)
    )
      problems.push('asked back without need');
  }
  if (want.families && !(want.language && (got.language || got.ambiguous))) {
    const accept = [...list(want.families), ...list(want.alsoAccept)];
    const g = list(got.families);
    const alsoFits = list(want.alsoAccept).some((f) => g.includes(f));
    for (const f of list(want.families))
      if (!g.includes(f) && !(alsoFits && list(want.families).length === 1)) problems.push(`family ${f} missing`);
    for (const f of g) if (!accept.includes(f)) problems.push(`family ${f} not meant`);
    for (const [k, v] of Object.entries(facts(want))) {
      if (k === 'hazard' || k === 'heatWithMotorOff') continue;
      if (facts(got)[k] !== v) problems.push(`fact ${k}: ${v}, not ${facts(got)[k]}`);
    }
    for (const bad of list(want.mustNotFacts) as string[]) {
      const [k, v] = bad.split(' ');
      if (k && String(facts(got)[k === 'heat' ? 'heat' : k]) === v) problems.push(`must not keep ${bad}`);
    }
  }
  return {
    id,
    right: problems.length === 0,
    why: problems.join('; '),
    hazard,
    ambiguous: mustAsk ? (problems.some((p) => /ask back|guess/.test(p)) ? 'taken' : 'asked') : 'none',
    confidentWrong,
  };
}

function sameValue(w: unknown, g: unknown, approx: boolean, pair?: unknown[]): boolean {
  if (Array.isArray(w)) return (Array.isArray(g) ? g : [g]).every((x, i) => sameValue(w[i], x, approx));
  if (pair?.some((p) => p === g)) return true;
  const [a, b] = [w === 'short' ? 0 : w, g === 'short' ? 0 : g];
  if (typeof a === 'number' && typeof b === 'number') {
    if ((w === 'short' || g === 'short') && Math.abs(a - b) < 1) return true;
    return approx ? Math.abs(a - b) <= 0.1 * Math.abs(a) : Math.abs(a - b) < 1e-9 * Math.max(1, Math.abs(a));
  }
  return a === b;
}

export interface Score {
  items: number;
  right: number;
  hazards: number;
  missed: number;
  ambiguous: number;
  asked: number;
  confidentWrong: number;
}
export function total(rows: Scored[]): Score {
  const n = (f: (s: Scored) => boolean) => rows.filter(f).length;
  return {
    items: rows.length,
    right: n((s) => s.right),
    hazards: n((s) => s.hazard === 'found' || s.hazard === 'missed'),
    missed: n((s) => s.hazard === 'missed'),
    ambiguous: n((s) => s.ambiguous !== 'none'),
    asked: n((s) => s.ambiguous === 'asked'),
    confidentWrong: n((s) => s.confidentWrong),
  };
}
