import { useEffect, useState } from 'hono/jsx/dom';
import type { DeviceState } from '../worker/messages.ts';
import { deviceState, onDevice } from './device.ts';

export function useDevice(): DeviceState | undefined {
  const [state, setState] = useState(deviceState());
  useEffect(() => {
    setState(deviceState());
    return onDevice(setState);
  }, []);
  return state;
}
