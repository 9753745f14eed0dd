import { test } from 'vitest';
import { knowledge } from '../../rules/index.ts';
import { createDryer } from '../dryer/create-dryer.ts';
import { lead } from './worlds.ts';
test('k', async () => {
  const k = knowledge();
  for (const m of (process.env.M ?? 'dial-single-coil').split(',')) {
    const attrs = k.machines.get(m)!.attributes;
    for (const f of k.faults.values()) {
      if (!f.fits.every((a) => attrs.includes(a)) || (f.weight['no-heat']?.[m] ?? 0) <= 0) continue;
      for (const c of f.causes) {
        const cause = k.faults.get(c.fault)!;
        if (!cause.fits.every((a) => attrs.includes(a))) continue;
        if (process.env.F && process.env.F !== f.id) continue;
        try {
          const d = createDryer({ machine: m, faults: [f.id, c.fault] } as never);
          const o = await lead({ machine: m, faults: [f.id, c.fault], audience: 'technician', family: 'no-heat' }, d);
          const found = o.end.followThrough.filter((s) => s.kind === 'cause').map((s) => `${s.item}:${s.state}`);
          const ok = o.right && (o.end.followThrough.some((s) => s.item === c.fault && s.state === 'failed') || o.end.conclusion?.faults.includes(c.fault));
          console.log(`${ok ? 'ok ' : 'BAD'}${o.wrongPart ? ' WRONG' : ''} ${m} ${f.id}+${c.fault} ${o.asked.length}q ${o.end.conclusion?.is} ${o.end.conclusion?.faults} | ${found} | stops ${o.end.stops.map((s) => s.sign)}`);
          if (process.env.V) for (const a of o.asked) console.log('   ', a.why, a.check, JSON.stringify(a.answers));
        } catch (e) { console.log('ERR', f.id, c.fault, (e as Error).message); }
      }
    }
  }
}, 600000);
