/** What the person who starts the program may set, from the environment. */
export interface Settings {
  host: string;
  port: number;
  /** The folder of the case file. */
  data: string;
  /** Requests a minute and client; 0 = no limit. */
  perMinute: number;
  logLevel: string;
}

/** A setting that cannot be used; the message says what would be right. */
export class BadSetting extends Error {
  override name = 'BadSetting';
}

const LEVELS = ['trace', 'debug', 'info', 'warn', 'error', 'fatal', 'silent'];

/** @throws BadSetting */
export function readSettings(env: Record<string, string | undefined>, home: string): Settings {
  const whole = (name: string, otherwise: number, most: number) => {
    const given = env[name]?.trim();
    if (!given) return otherwise;
    const value = Number(given);
    if (/^\d+$/.test(given) && value <= most) return value;
    throw new BadSetting(`${name} is "${given}". It must be a whole number from 0 to ${most}.`);
  };
  const logLevel = env.LOG_LEVEL?.trim() || 'info';
  if (!LEVELS.includes(logLevel)) throw new BadSetting(`LOG_LEVEL is "${logLevel}". It must be one of ${LEVELS.join(', ')}.`);
  return {
    host: env.HOST?.trim() || '127.0.0.1',
    port: whole('PORT', 8080, 65_535),
    data: env.COLD_DRUM_DATA?.trim() || `${home}/data`,
    perMinute: whole('COLD_DRUM_RATE', 600, 1_000_000),
    logLevel,
  };
}
