/** How tests tell a hang from work: by what the processor has done, which others on the machine do not add to. */

/**
 * Longest that one text may keep anything busy, in milliseconds. On a quiet machine all take well under a second; what is
 * caught by this takes minutes, and a slow or busy machine three times as long as a quiet one.
 */
export const AT_MOST = 5_000;

/** What this process has spent so far, in milliseconds. */
export function cpuTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}
