import { recordSchema } from '@limner/core';
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { format } from 'prettier';
import { expect, it } from 'vitest';
import { invented } from './fixtures/record.ts';

const KEPT = new URL('../packages/core/schema/limner-record-1.schema.json', import.meta.url);
const options = JSON.parse(readFileSync(new URL('../.config/prettier.json', import.meta.url), 'utf8')) as object;

/** JSON Schema, draft 7, as others use it without this code. */
const published = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  $id: 'limner-record/1',
  title: 'Limner record, version 1',
  ...recordSchema,
};

it('the kept schema is that of the code (after a wanted change: npx vitest run -u tests/record-schema.test.ts)', async () => {
  const text = await format(JSON.stringify(published), { ...options, parser: 'json' });
  await expect(text).toMatchFileSnapshot(fileURLToPath(KEPT));
});

it('the kept schema takes a record and refuses what is none', () => {
  const validate = new Ajv().compile(JSON.parse(readFileSync(KEPT, 'utf8')) as object);
  expect(validate(invented()), JSON.stringify(validate.errors)).toBe(true);
  expect(validate({ ...invented(), schema: 'limner-record/2' })).toBe(false);
  expect(validate({ ...invented(), elements: undefined })).toBe(false);
});
