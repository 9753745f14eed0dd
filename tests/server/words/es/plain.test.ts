import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../../rules/index.ts';
import { askedOf } from '../texts.ts';
import { allTexts, ease, median, sentences, syllablesOf, type Text, wordsOf } from './spanish.ts';

const k = knowledge();
const texts = allTexts();
const quoted = (list: readonly Text[]) => list.map((t) => `${t.where}, ${t.to}: ${t.text}`);

describe('the measure', () => {
  test('hears syllables as the ear does', () => {
    const heard: [string, number][] = [
      ['aire', 2],
      ['agua', 2],
      ['energía', 4],
      ['día', 2],
      ['secadora', 4],
      ['tambor', 2],
      ['enchufe', 3],
      ['quemado', 3],
      ['guíese', 3],
      ['corriente', 3],
      ['tomacorriente', 5],
      ['línea', 3],
      ['muy', 1],
      ['ruido', 2],
      ['limpio', 2],
      ['caer', 2],
      ['frío', 2],
      ['también', 2],
      ['resistencia', 4],
      ['y', 1],
      ['240', 1],
      ['V', 1],
    ];
    expect(heard.filter(([w, n]) => syllablesOf(w) !== n).map(([w, n]) => `${w}: ${syllablesOf(w)}, heard ${n}`)).toEqual([]);
  });
  test('gives the ease of the formula', () => {
    // El ai-re sa-le muy frí-o: five words, eight syllables.
    expect(ease('El aire sale muy frío.')).toBeCloseTo(206.84 - 60 * (8 / 5) - 1.02 * 5, 10);
    expect(ease('Verificar minuciosamente la continuidad eléctrica del dispositivo.')).toBeLessThan(20);
  });
});

/** Texts of whole sentences: labels and names are none. */
const spoken = texts.filter(
  ({ where, text }) =>
    !/^names|checkNames| label$| name$| choices? /.test(where) && /[.?]$/.test(text) && wordsOf(text).length >= 6,
);

describe('what is said in Spanish is plain', () => {
  test.each(['homeowner', 'agent'] as const)('to a %s: half of it is easier than 80, nine tenths than 65', (to) => {
    const all = spoken.filter((t) => t.to === to).map((t) => ease(t.text));
    expect(all.length).toBeGreaterThan(300);
    expect(median(all)).toBeGreaterThanOrEqual(80);
    expect(all.filter((e) => e < 65).length / all.length).toBeLessThan(0.1);
  });
  test('nothing is hard, a stop least of all', () => {
    const bound = (t: Text) => (t.where.startsWith('stops') ? 60 : 45);
    expect(quoted(spoken.filter((t) => ease(t.text) < bound(t)))).toEqual([]);
  });
  test('no sentence has more than 26 words', () => {
    const long = texts.filter((t) => sentences(t.text).some((s) => wordsOf(s).length > 26));
    expect(quoted(long)).toEqual([]);
  });
  test('everybody is "usted"', () => {
    expect(
      quoted(texts.filter((t) => /\b(tú|vos|tu|tus|vosotros|vuestr\w*|puedes|tienes|quieres|haz|dime)\b/i.test(t.text))),
    ).toEqual([]);
  });
  test('nobody is shouted at, and a line read aloud says please once', () => {
    expect(quoted(texts.filter((t) => /[¡!]/.test(t.text)))).toEqual([]);
    expect(quoted(texts.filter((t) => (t.text.match(/por favor/gi) ?? []).length > 1))).toEqual([]);
  });
  test('every question is opened and closed', () => {
    const count = (text: string, mark: string) => text.split(mark).length;
    expect(quoted(texts.filter((t) => count(t.text, '¿') !== count(t.text, '?')))).toEqual([]);
  });
  test('asks end as sentences do, labels do not', () => {
    const ends = (t: Text) => /[.?]$/.test(t.text);
    expect(
      quoted(
        texts.filter(
          (t) => /^(checks .* (ask|how|example|why|script)|stops .* (text|gasUnknown|otherwise))$/.test(t.where) && !ends(t),
        ),
      ),
    ).toEqual([]);
    expect(quoted(texts.filter((t) => / (label|title|name|choices \S+|points \S+)$/.test(t.where) && ends(t)))).toEqual([]);
  });
  test('no two answers to one question read alike, and no two faults', () => {
    const seen = new Map<string, string>();
    const twice: string[] = [];
    for (const t of texts.filter((x) => / choices \S+$/.test(x.where) || /^faults .* label$/.test(x.where))) {
      const group = `${t.where.replace(/ choices \S+$/, '').replace(/^faults .*/, 'faults')} ${t.to} ${t.text}`;
      if (seen.has(group)) twice.push(`${seen.get(group)} = ${t.where}: ${t.text}`);
      seen.set(group, t.where);
    }
    expect(twice).toEqual([]);
  });
});

const BRIDGE =
  /\bpuente(e|en|ar|ando)\b|\bhaga un puente|\bbrin(car|que|que[nl])|\bsalt(e|ar) (el|la)\b|\banul(e|ar|en)\b|\bjumper|\bclip\b|\ben corto (el|la)\b/i;
const FOR_SKILLED =
  /desenchuf|(saque|jale|quite|con) el enchufe|enchufe afuera|\bmedidor\b|\bohmios?\b|\btornill|(quite|saque|abra) la (tapa|cubierta)|(abra|quite) el (panel|frente)|(mueva|separe|jale) la secadora/i;

describe('no Spanish text leads anybody into danger', () => {
  test('the patterns know what they are to find', () => {
    for (const bad of ['Puentee el fusible.', 'Haga un puente con un clip.', 'Brinque el límite.']) expect(bad).toMatch(BRIDGE);
    expect('Alguien anuló una pieza de seguridad').not.toMatch(BRIDGE);
    for (const bad of ['Desenchufe la secadora.', 'Quite la tapa de atrás.', 'Con el medidor en ohmios, mida.'])
      expect(bad).toMatch(FOR_SKILLED);
    expect('¿El panel está frío, callado y seco?').not.toMatch(FOR_SKILLED);
  });
  test('no safety part is ever bridged', () => {
    const bad = texts.filter((t) => sentences(t.text).some((s) => !s.startsWith('Nunca ') && BRIDGE.test(s)));
    expect(quoted(bad)).toEqual([]);
  });
  test('gloves are trusted for cuts alone', () => {
    const gloves = texts.filter((t) => /guante/i.test(t.text)).flatMap((t) => sentences(t.text).filter((s) => /guante/i.test(s)));
    expect(gloves.length).toBeGreaterThan(0);
    expect(gloves.filter((s) => !/contra cortes|no protegen|no sirven/.test(s))).toEqual([]);
  });
  test('at level 0 and 1 nobody is asked for a cover, a meter, a plug or a moved dryer', () => {
    const bad = texts.filter((t) => {
      const [, , id, field] = t.where.split(' ');
      const check = t.where.startsWith('checks checks') ? k.checks.get(id!) : undefined;
      const open = check && check.level <= 1 && !check.needs.includes('homeowner-only');
      return open && /^(ask|how|example|script)$/.test(field!) && FOR_SKILLED.test(t.text);
    });
    expect(quoted(bad)).toEqual([]);
  });
  test('the line read to a caller names every entry of its list, for "none" answers them all', () => {
    const LITTLE = new Set(['algo', 'alguien', 'cuando', 'debe', 'esta', 'está', 'están', 'solo', 'cliente', 'sabe']);
    const stems = (text: string) =>
      (text.toLowerCase().match(/\p{L}{4,}/gu) ?? []).filter((w) => !LITTLE.has(w)).map((w) => w.slice(0, 4));
    const of = (where: string, to: string) => texts.find((t) => t.where === where && t.to === to)?.text ?? '';
    const unread = [...k.checks.values()]
      .filter((c) => askedOf(c).includes('agent'))
      .flatMap((c) => {
        const read = new Set(stems(of(`checks checks ${c.id} script`, 'homeowner')));
        return Object.keys(c.choices ?? {})
          .filter((id) => id !== 'none')
          .flatMap((id) => {
            const under = Object.entries(c.groups ?? {}).find(([, ids]) => ids.includes(id))?.[0];
            const line = under ? `groups ${under}` : `choices ${id}`;
            const missing = stems(of(`checks checks ${c.id} ${line}`, 'agent')).filter((x) => !read.has(x));
            return missing.length ? [`${c.id} ${id}: ${missing.join(', ')}`] : [];
          });
      });
    expect(unread).toEqual([]);
  });
  test('what must be done now says as much as in English: no line is much shorter than its like', () => {
    const short = [...k.stops.values()].flatMap((s) =>
      Object.entries(s.sayNow).flatMap(([region, lines]) =>
        lines.flatMap((line, i) => {
          const own = texts.find((t) => t.where === `stops stops ${s.id} sayNow ${region} ${i} text`)?.text ?? '';
          return wordsOf(own).length < wordsOf(line.text).length * 0.5
            ? [`${s.id} ${region} ${i + 1}: ${own} / ${line.text}`]
            : [];
        }),
      ),
    );
    expect(short).toEqual([]);
  });
});
