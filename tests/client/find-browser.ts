import { existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';

export const ARGS = [
  '--no-sandbox',
  '--no-zygote',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
const INSTALLED = [
  '/usr/bin/chromium-headless-shell',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  `${process.env.PROGRAMFILES}\\Google\\Chrome\\Application\\chrome.exe`,
];

export interface FoundBrowser {
  executablePath: string;
  env: Record<string, string>;
}

/** CHROMIUM_PATH, else an installed one, else (Linux x64) the one that comes in an npm package with the few libraries it needs. */
export async function findBrowser(): Promise<FoundBrowser> {
  const given = process.env.CHROMIUM_PATH;
  if (given && given !== 'npm') return { executablePath: given, env: {} };
  const installed = given === 'npm' ? undefined : INSTALLED.find((path) => existsSync(path));
  if (installed) return { executablePath: installed, env: {} };
  if (process.platform !== 'linux' || process.arch !== 'x64')
    throw new Error('No Chromium found: install Chrome or Chromium, or set CHROMIUM_PATH');
  const dir = resolve(import.meta.dirname, '../../node_modules/.cache/test-chromium');
  if (!existsSync(`${dir}/done`)) await unpack(dir);
  return {
    executablePath: `${dir}/chromium`,
    env: { LD_LIBRARY_PATH: `${dir}/al2023/lib`, FONTCONFIG_PATH: `${dir}/fonts` },
  };
}

/** The package unpacks to os.tmpdir(), and its libraries only where it believes it is on a host of a certain kind. */
async function unpack(dir: string): Promise<void> {
  rmSync(dir, { recursive: true, force: true });
  mkdirSync(dir, { recursive: true });
  const names = ['TMPDIR', 'AWS_EXECUTION_ENV', 'LD_LIBRARY_PATH', 'FONTCONFIG_PATH'];
  const before = names.map((name) => [name, process.env[name]] as const);
  Object.assign(process.env, { TMPDIR: dir, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' });
  try {
    const { default: chromium } = await import('@sparticuz/chromium');
    chromium.setGraphicsMode = false;
    await chromium.executablePath();
    // The fonts.conf in the package names a temporary folder; with no font at all the page process crashes at the first text field.
    writeFileSync(
      `${dir}/fonts/fonts.conf`,
      `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>${dir}/fonts/fonts</dir><cachedir>${dir}/fonts-cache</cachedir></fontconfig>`,
    );
    writeFileSync(`${dir}/done`, '');
  } finally {
    for (const [name, value] of before) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  }
}
