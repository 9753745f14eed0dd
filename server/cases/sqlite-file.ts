import { existsSync, mkdirSync, rmSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';

/** Written into the file's header, so that another program's database is never taken for ours. */
const APPLICATION_ID = 0x436f4472;

/** The case file cannot be used. The message is for the person who starts the program: what, where, and what to do. */
export class UnusableFile extends Error {
  override name = 'UnusableFile';
}

/**
 * Opens the case file, making it and its folder at the first start.
 * A file that is there is first looked at read-only: a damaged or foreign one is left exactly as it is.
 * @throws UnusableFile
 */
export function openFile(file: string): Database.Database {
  const isNew = !existsSync(file) || statSync(file).size === 0;
  if (isNew) {
    try {
      // What people told is nobody else's on this computer.
      mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
    } catch (e) {
      throw new UnusableFile(
        `The folder for the case file ${file} cannot be made (${codeOf(e)}). Make it, or set COLD_DRUM_DATA.`,
      );
    }
  } else lookAt(file);
  let db: Database.Database | undefined;
  try {
    db = new Database(file);
    db.pragma('busy_timeout = 5000');
    db.pragma('journal_mode = WAL');
    // An acknowledged answer must outlive a power cut; the default under WAL would not promise that.
    db.pragma('synchronous = FULL');
    db.pragma('foreign_keys = ON');
    if (isNew) db.pragma(`application_id = ${APPLICATION_ID}`);
    return db;
  } catch (e) {
    db?.close();
    throw new UnusableFile(
      `The case file ${file} cannot be opened for writing (${codeOf(e)}). Check who owns it and the free space.`,
    );
  }
}

function lookAt(file: string): void {
  let db: Database.Database | undefined;
  let found: string;
  const besides = [`${file}-wal`, `${file}-shm`].filter((f) => !existsSync(f));
  try {
    db = new Database(file, { readonly: true, fileMustExist: true });
    db.pragma('busy_timeout = 5000');
    const foreign = db.pragma('application_id', { simple: true }) !== APPLICATION_ID;
    if (foreign) {
      throw new UnusableFile(
        `${file} is a database, but not a case file of Cold Drum. Nothing was changed. Move it aside, or set COLD_DRUM_DATA to another folder.`,
      );
    }
    found = String(db.pragma('quick_check(1)', { simple: true }));
  } catch (e) {
    if (e instanceof UnusableFile) throw e;
    found = codeOf(e);
  } finally {
    db?.close();
  }
  if (found === 'ok') return;
  if (/^SQLITE_(CANTOPEN|BUSY|IOERR|PERM|READONLY)/.test(found)) {
    throw new UnusableFile(`The case file ${file} cannot be read (${found}). Check who owns it, and that nothing holds it.`);
  }
  // Looking at a WAL file makes these two, empty; a folder somebody has to repair is handed over as it was found.
  for (const made of besides) rmSync(made, { force: true });
  throw new UnusableFile(
    `The case file ${file} is damaged (${found}). Nothing was changed. ` +
      'Restore it from a backup, or move it aside together with its -wal and -shm files; a new one is made at the next start.',
  );
}

const codeOf = (e: unknown): string => String((e as { code?: unknown }).code ?? 'unknown');
