import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { LISTS, SINGLES } from '../../rules/knowledge/list-files.ts';

const FOLDER = join(import.meta.dirname, '../../rules/knowledge/schemas');

/** The JSON Schema of every kind of knowledge file: name of the schema file -> its text. Made from the shapes the loader uses. */
export function schemaTexts(): Map<string, string> {
  const out = new Map<string, string>();
  const add = (file: string, shape: z.ZodType): void => {
    const schema = z.toJSONSchema(shape, { io: 'input' });
    out.set(file.replace('.json', '.schema.json'), `${JSON.stringify(schema, null, 2)}\n`);
  };
  for (const [file, { key, item, beside }] of Object.entries(LISTS))
    add(file, z.strictObject({ $schema: z.string().optional(), ...beside, [key]: z.array(item) }));
  for (const [file, shape] of Object.entries(SINGLES)) add(file, shape);
  return out;
}

/** Schema files that are missing or do not say what the shapes say. */
export function staleSchemas(): string[] {
  return [...schemaTexts()].flatMap(([file, text]) => {
    const path = join(FOLDER, file);
    return existsSync(path) && readFileSync(path, 'utf8') === text ? [] : [file];
  });
}

/** npm run schemas: writes rules/knowledge/schemas. */
export function main(): void {
  mkdirSync(FOLDER, { recursive: true });
  for (const file of staleSchemas()) {
    writeFileSync(join(FOLDER, file), schemaTexts().get(file)!);
    console.log(`wrote rules/knowledge/schemas/${file}`);
  }
}
