import { describe, expect, test } from 'vitest';
import { knowledge } from '../../../rules/index.ts';
import { usesPower } from '../../../rules/knowledge/touches.ts';
import { powerSaid } from './power-said.ts';
import { askedOf } from './texts.ts';
import { toldOf } from './told.ts';

const k = knowledge();

describe('what a check does with the power is found twice: in what it touches, and in its sentence', () => {
  test.each([
    ['en', 'Run it on high for five minutes.', true],
    ['en', 'Please empty the drum, choose a timed cycle, and start it.', true],
    ['en', 'While it runs, please look at the flap outside.', true],
    ['en', 'Push its breaker off, wait five minutes, and push it on, one time.', true],
    ['en', 'Press start: does it run?', true],
    ['en', 'Plug in and read.', true],
    ['en', 'Dry one usual load. Is it dry in the time it used to take?', true],
    ['en', 'What did the dryer do the last time you pressed start?', false],
    ['en', 'Do not run the dryer with it out.', false],
    ['en', 'At a sink, run water on it.', false],
    ['en', 'Turn the dial off, and then the dryer breaker.', false],
    ['en', 'Put every plug back before the power comes on.', false],
    ['es', 'Póngala cinco minutos en calor alto.', true],
    ['es', 'Baje su breaker, espere cinco minutos, y súbalo, una vez.', true],
    ['es', 'Con la secadora en marcha, mire la salida.', true],
    ['es', '¿Qué hizo la última vez que apretó el botón de arranque?', false],
    ['es', 'Ponga la perilla en apagado.', false],
    ['es', 'No la use sin filtro.', false],
  ] as const)('%s: %s', (language, text, is) => {
    expect(powerSaid(text, language).length > 0, powerSaid(text, language).join()).toBe(is);
  });

  test.each([
    ['en', ['homeowner', 'agent', 'technician']],
    ['es', ['homeowner', 'agent']],
  ] as const)('every check, to everybody who may be asked it: %s', (language, spoken) => {
    const wrong: string[] = [];
    for (const check of k.checks.values())
      for (const to of askedOf(check).filter((a) => (spoken as readonly string[]).includes(a))) {
        const text = toldOf(check, to, language);
        const said = powerSaid(text, language);
        if (said.length > 0 !== usesPower(check.touches))
          wrong.push(`${check.id}, ${to}: touches ${check.touches.join(' ') || 'nothing'}, says ${said.join(' / ') || text}`);
      }
    expect(wrong).toEqual([]);
  });
});
