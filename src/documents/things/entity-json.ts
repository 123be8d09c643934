/** Where an entity of a set stands. A quotation mark within a key is doubled: OData 4.0, URL conventions. */
export function entityLink(base: string, set: string, id: string): string {
  return `${base}/${set}('${encodeURIComponent(id.replaceAll("'", "''"))}')`;
}

export function entityHead(
  base: string,
  set: string,
  id: string,
): { readonly '@iot.id': string; readonly '@iot.selfLink': string } {
  return { '@iot.id': id, '@iot.selfLink': entityLink(base, set, id) };
}

/** The JSON of an object without its last brace, so that more can follow. */
export function openObject(told: object): string {
  return JSON.stringify(told).slice(0, -1);
}

/** A number of JSON, digit by digit as it was written: 7.10 stays 7.10 for a reader that keeps decimals. RFC 8259, 6. */
const JSON_NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/;

export function figureJson(result: string | undefined, id: string): string {
  if (result === undefined) return 'null';
  if (JSON_NUMBER.test(result)) return result;
  throw new RangeError(`the result "${result}" of observation ${id} is no figure: give plain digits, as -0.42`);
}
