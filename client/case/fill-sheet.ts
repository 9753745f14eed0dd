import { api, newTurnKey } from '../api.ts';
import { keep } from '../kept.ts';
import { type Held, set, take } from './held.ts';

/** Writes on the job sheet, one field after the other. @returns whether it was kept */
export function fillSheet(held: Held, job: Record<string, string>): Promise<boolean> {
  held.filling = held.filling.then(() => write(held, job));
  return held.filling;
}

/** A case that was added to elsewhere is taken as it is there, and written on once more. */
async function write(held: Held, job: Record<string, string>, again = true): Promise<boolean> {
  const { id, state } = held;
  if (!state.view) return false;
  const result = await api.patch(id, state.view.rev, newTurnKey(), { job });
  if (!result.ok && result.failure.is === 'stale' && again) {
    const now = await api.look(id);
    if (now.ok) take(held, { opened: now.value, before: held.state.view });
    return now.ok && write(held, job, false);
  }
  if (!result.ok) return false;
  const { rev } = result.value.case;
  set(held, { view: { ...held.state.view!, rev } });
  keep('case', { id, rev });
  return true;
}
