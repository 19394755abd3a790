import { describeRegistry } from '@repo/calc';
import { parseFormula, type FormulaNode } from './parse-formula';

/** The tree with every bracket written, so that precedence can be read. */
function toText(node: FormulaNode): string {
  if (node.kind === 'binary') return `(${toText(node.left)}${node.operator}${toText(node.right)})`;
  if (node.kind === 'negative') return `(-${toText(node.operand)})`;
  if (node.kind === 'call') return `${node.name}[${node.operands.map(toText).join(';')}]`;
  if (node.kind === 'choice') return `(${toText(node.when)}?${toText(node.then)}:${toText(node.otherwise)})`;
  return node.text;
}
const read = (text: string): string | null => {
  const tree = parseFormula(text);
  return tree === null ? null : toText(tree);
};

describe('parseFormula', () => {
  it('binds as arithmetic does', () => {
    expect(read('a + b * c')).toBe('(a+(b*c))');
    expect(read('a / b * c')).toBe('((a/b)*c)');
    expect(read('a - b - c')).toBe('((a-b)-c)');
    expect(read('a^b^c')).toBe('(a^(b^c))');
    expect(read('exp(-(t / eta)^beta)')).toBe('exp[(-((t/eta)^beta))]');
    expect(read('h^(-m)')).toBe('(h^(-m))');
    expect(read('Q = p < p_s ? Q_0 : 0')).toBe('(Q=((p<p_s)?Q_0:0))');
  });

  it('gives up on what is no formula instead of guessing', () => {
    for (const text of ['', 'a +', '(a', 'a b', 'a ? b', 'a § b', ')']) expect(parseFormula(text)).toBeNull();
  });

  it('reads every formula of every calculation', () => {
    const lines = describeRegistry().flatMap((calculation) => calculation.formula);
    expect(lines.length).toBeGreaterThan(50);
    expect(lines.filter((line) => parseFormula(line) === null)).toEqual([]);
  });
});
