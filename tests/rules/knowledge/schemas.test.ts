import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { FILES } from '../../../rules/knowledge/files.ts';
import { schemaTexts, staleSchemas } from '../../tools/schemas.ts';

test('the JSON Schemas say what the shapes say (npm run schemas)', () => {
  expect(staleSchemas()).toEqual([]);
  const kept = readdirSync(join(import.meta.dirname, '../../../rules/knowledge/schemas'));
  expect(kept.sort()).toEqual([...schemaTexts().keys()].sort());
});

test('every file of knowledge names its schema and another validator agrees with ours', () => {
  const root = join(import.meta.dirname, '../../../rules/knowledge');
  const ajv = new Ajv2020({ strict: false });
  for (const path of Object.keys(FILES)) {
    const text = readFileSync(join(root, path), 'utf8');
    const named = (JSON.parse(text) as { $schema?: string }).$schema;
    expect(named, path).toMatch(/schemas\/[a-z-]+\.schema\.json$/);
    const schema = schemaTexts().get(named!.split('/').at(-1)!);
    expect(schema, `${path}: ${named}`).toBeDefined();
    expect(ajv.validate(JSON.parse(schema!), JSON.parse(text)), `${path}: ${ajv.errorsText()}`).toBe(true);
  }
});
