/** One or more levels that mean themselves: no wildcards, no empty level, none of the broker's own topics. */
export function isPlainTopic(text: string): boolean {
  return (
    text.length <= 500 && /^[^$+#/\p{Cc}\p{Cs}][^+#/\p{Cc}\p{Cs}]*(?:\/[^+#/\p{Cc}\p{Cs}]+)*$/u.test(text)
  );
}
