/** JSON that can stand in a script whatever is in it. */
export function scriptSafe(json: string): string {
  return json.replace(
    /[<\u2028\u2029]/g,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
