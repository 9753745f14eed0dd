import { useEffect, useState } from 'hono/jsx/dom';
import type { DeviceState } from '../worker/messages.ts';
import { deviceState, onDevice } from './device.ts';

export function useDevice(): DeviceState | undefined {
  const [state, setState] = useState(deviceState());
  useEffect(() => {
    setState(deviceState());
    // A state of its own each time, so that the lack of a worker is shown as well.
    return onDevice((now) => setState(now && { ...now }));
  }, []);
  return state;
}
