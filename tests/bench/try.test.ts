import { test } from 'vitest';
import { knowledge } from '../../rules/index.ts';
import { createDryer } from '../dryer/create-dryer.ts';
import { lead } from './worlds.ts';

test('k', async () => {
  const k = knowledge();
  const ms = (process.env.M ?? 'dial-single-coil').split(',');
  const who = (process.env.A ?? 'technician') as 'technician';
  for (const m of ms) {
    const attrs = k.machines.get(m)!.attributes;
    for (const f of k.faults.values()) {
      if (!f.fits.every((a) => attrs.includes(a))) continue;
      if ((f.weight['no-heat']?.[m] ?? 0) <= 0 && !process.env.F) continue;
      if (process.env.F && !process.env.F.split(',').includes(f.id)) continue;
      const d = createDryer({
        machine: m as 'dial-single-coil',
        faults: [f.id],
        hookup: 'four-wire',
        system: 'split240',
      } as never);
      const t = process.cpuUsage().user;
      try {
        const o = await lead({ machine: m, faults: [f.id], audience: who, family: 'no-heat' }, d);
        console.log(
          `${o.right ? 'ok ' : 'BAD'}${o.wrongPart ? ' WRONG' : ''}${o.unsafeAsk ? ' UNSAFE' : ''}${o.missedReferral ? ' MISSED' : ''}${o.stuck ? ' STUCK' : ''} ${f.id} ${o.minutes.toFixed(0)}min ${o.asked.length}q c${(o.consultMs.reduce((a, b) => a + b, 0) / o.consultMs.length).toFixed(0)}/${Math.max(...o.consultMs).toFixed(0)} ${((process.cpuUsage().user - t) / 1000).toFixed(0)}ms ${o.end.conclusion?.is} ${o.end.conclusion?.faults.join(',')} ref:${o.end.referral?.trades} ${o.end.referral?.kind} stops:${o.end.stops.map((s) => s.sign)}`,
        );
        if (process.env.V) for (const a of o.asked) console.log('   ', a.why, a.check, JSON.stringify(a.answers));
        if (process.env.V)
          console.log(
            o.end.suspects
              .slice(0, 8)
              .map((s) => `${s.faults} ${s.share} m${s.misreads} ${s.live ? 'live' : ''} conf${s.confirmedBy}`)
              .join('\n'),
          );
      } catch (e) {
        console.log('ERR', f.id, (e as Error).stack?.split('\n').slice(0, 4).join(' | '));
      }
    }
  }
}, 600000);
