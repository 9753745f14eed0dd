import { api, type OpenBody } from '../api.ts';
import { keepMeter, ownMeter } from '../meter.ts';

/** A technician's case starts with the meter kept here; one the program no longer knows is forgotten and holds nothing up. */
export async function openWith(body: OpenBody): ReturnType<typeof api.open> {
  const machine = body.audience === 'technician' ? ownMeter() : undefined;
  const opened = await api.open({ ...body, ...(machine && { machine }) });
  if (opened.ok || !machine || opened.failure.is !== 'refused') return opened;
  keepMeter({});
  return api.open(body);
}
