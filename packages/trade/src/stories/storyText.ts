/** The text of the first story that names this rule first, else of the first that names it at all; undefined = none does. */
export function findStoryText(text: string, rule: string): string | undefined {
  const blocks = text
    .split(/^(?=Story:)/m)
    .filter((block) => block.startsWith('Story:'))
    .map((block) => block.trimEnd());
  const rulesOf = (block: string): readonly string[] =>
    (/^Rule:(.*)$/m.exec(block)?.[1] ?? '').split(';').map((word) => word.trim());
  return (
    blocks.find((block) => rulesOf(block)[0] === rule) ??
    blocks.find((block) => rulesOf(block).includes(rule))
  );
}
