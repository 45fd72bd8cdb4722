// Writes src/api/contract.ts from docs/reference/*.json, so that the types are the contract.
//   node tools/make_contract.mjs            writes the file
//   node tools/make_contract.mjs --check    exit status 1 if the file is not what it would write
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const reference = new URL('../../docs/reference/', import.meta.url);
const target = new URL('../src/api/contract.ts', import.meta.url);

/** call -> Call, number_or_null -> NumberOrNull */
const pascal = (name) => name.replace(/(^|_)([a-z])/g, (_, __, letter) => letter.toUpperCase());

/** The TypeScript type of a JSON schema; `named` turns a $ref into a type name. */
export function typeOf(schema, named) {
  if (schema === true || schema === undefined || Object.keys(schema).length === 0) return 'unknown';
  if (schema.$ref) return named(schema.$ref);
  if ('const' in schema) return JSON.stringify(schema.const);
  if (schema.enum) return schema.enum.map((one) => JSON.stringify(one)).join(' | ');
  const several = schema.anyOf ?? schema.oneOf;
  if (several) return several.map((one) => typeOf(one, named)).join(' | ');
  const kinds = Array.isArray(schema.type) ? schema.type : [schema.type];
  return kinds.map((kind) => typeOfKind(kind, schema, named)).join(' | ');
}

function typeOfKind(kind, schema, named) {
  switch (kind) {
    case 'null':
    case 'string':
    case 'boolean':
      return kind;
    case 'integer':
    case 'number':
      return 'number';
    case 'array': {
      const item = typeOf(schema.items ?? {}, named);
      return /[ |{]/.test(item) ? `Array<${item}>` : `${item}[]`;
    }
    case 'object':
    case undefined:
      return typeOfObject(schema, named);
    default:
      throw new Error(`a schema of type ${kind}`);
  }
}

function typeOfObject(schema, named) {
  if (!schema.properties) {
    const values = schema.additionalProperties;
    return `Record<string, ${values && values !== true ? typeOf(values, named) : 'unknown'}>`;
  }
  const required = new Set(schema.required ?? []);
  const lines = Object.entries(schema.properties).map(([name, property]) => {
    const note = property.description ? `/** ${property.description} */ ` : '';
    const key = /^[A-Za-z_]\w*$/.test(name) ? name : JSON.stringify(name);
    return `${note}${key}${required.has(name) ? '' : '?'}: ${typeOf(property, named)};`;
  });
  return `{ ${lines.join(' ')} }`;
}

function read(file) {
  return JSON.parse(readFileSync(new URL(file, reference), 'utf8'));
}

/** All types of one document schema, its name and its $defs prefixed. */
function typesOfDocument(file, prefix) {
  const schema = read(file);
  const named = (ref) => prefix + pascal(ref.split('/').pop());
  const parts = Object.entries(schema.$defs ?? {}).map(
    ([name, one]) => `export type ${prefix}${pascal(name)} = ${typeOf(one, named)};`,
  );
  parts.push(`export type ${prefix}Document = ${typeOf(schema, named)};`);
  return parts;
}

export function contractText() {
  const openapi = read('api.openapi.json');
  const named = (ref) => ref.split('/').pop();
  const parts = Object.entries(openapi.components.schemas).map(
    ([name, schema]) => `export type ${name} = ${typeOf(schema, named)};`,
  );
  parts.push(`export type PictureName = ${pictureNames(openapi)};`);
  parts.push(...typesOfDocument('call.schema.json', 'Call'));
  if (existsSync(new URL('lay.schema.json', reference))) {
    parts.push(...typesOfDocument('lay.schema.json', 'Lay'));
  }
  parts.push(...typesOfDocument('book.schema.json', 'Book'));
  const head = '// Made by tools/make_contract.mjs from docs/reference; not edited by hand.\n';
  return head + parts.map((one) => `\n${one}\n`).join('');
}

function pictureNames(openapi) {
  const path = Object.keys(openapi.paths).find((one) => one.endsWith('/pictures/{picture}'));
  const parameters = openapi.paths[path].parameters.find((one) => one.name === 'picture');
  return typeOf(parameters.schema, (ref) => ref);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const text = contractText();
  if (!process.argv.includes('--check')) {
    writeFileSync(target, text);
  } else if (readFileSync(target, 'utf8') !== text) {
    console.error('src/api/contract.ts is not what docs/reference says: node tools/make_contract.mjs');
    process.exit(1);
  }
}
