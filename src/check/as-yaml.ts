/** A value as somebody would write it in one line of YAML 1.2, also inside braces: for hints and the reference. */

/** What begins like something else than a text, or ends one: a sign of YAML, or a bracket, comma or comment within. */
const SIGN = /^[>|*&!@%`"'#]|^[-?:](?: |$)|^(?:---|\.\.\.)|: |:$| #|[[\]{},]/;
/** What is read as a number, as true or false, or as nothing. */
const OTHER_SORT =
  /^(?:[-+]?(?:\d[\d_]*(?:\.\d*)?|\.\d+)(?:e[-+]?\d+)?|[-+]?\.(?:inf|nan)|0[xo][\da-f]+|true|false|null|yes|no|on|off|y|n|~|)$/i;

/**
 * One line of YAML that is read as the same value again.
 *
 * @example asYaml({ basis: 'told', source: "seller's list, p. 2" }) // '{ basis: told, source: "seller\'s list, p. 2" }'
 */
export function asYaml(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(asYaml).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    const fields = Object.entries(value).map(([key, inner]) => `${asYaml(key)}: ${asYaml(inner)}`);
    return fields.length === 0 ? '{}' : `{ ${fields.join(', ')} }`;
  }
  if (typeof value !== 'string') return String(value);
  const isPlain =
    value === value.trim() && !/[\n\t]/.test(value) && !SIGN.test(value) && !OTHER_SORT.test(value);
  return isPlain ? value : JSON.stringify(value);
}
