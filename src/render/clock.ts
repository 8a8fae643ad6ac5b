/** A time of the day from seconds since midnight: `07:30`; the end of the day is `24:00`. */
export function clock(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  const two = (number: number) => String(number).padStart(2, '0');
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}
