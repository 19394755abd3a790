/** A formula as a tree: what a typesetter needs, and nothing that computes. */
export type FormulaNode =
  | { kind: 'number' | 'name' | 'text'; text: string }
  | { kind: 'binary'; operator: string; left: FormulaNode; right: FormulaNode }
  | { kind: 'negative'; operand: FormulaNode }
  | { kind: 'call'; name: string; operands: readonly FormulaNode[] }
  | { kind: 'choice'; when: FormulaNode; then: FormulaNode; otherwise: FormulaNode };

/** How strongly each operator binds. */
const BINDING: Readonly<Record<string, number>> = {
  '=': 1,
  '<': 3,
  '>': 3,
  '<=': 3,
  '>=': 3,
  '+': 4,
  '-': 4,
  '*': 5,
  '/': 5,
  '^': 7,
};
const CHOICE_BINDING = 2;
const NEGATIVE_BINDING = 6;
const TOKEN = /\s*(\d+(?:\.\d+)?(?:e[+-]?\d+)?|[A-Za-z]\w*|"[^"]*"|<=|>=|[-+*/^=<>?:(),])/y;

function listTokens(text: string): string[] | null {
  const tokens: string[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < text.trimEnd().length) {
    const token = TOKEN.exec(text)?.[1];
    if (token === undefined) return null;
    tokens.push(token);
  }
  return tokens;
}

class Unreadable extends Error {}

class Parser {
  private at = 0;
  constructor(private readonly tokens: readonly string[]) {}

  whole(): FormulaNode {
    const tree = this.expression(0);
    if (this.at < this.tokens.length) throw new Unreadable();
    return tree;
  }

  private take(expected?: string): string {
    const token = this.tokens[this.at];
    if (token === undefined || (expected !== undefined && token !== expected)) throw new Unreadable();
    this.at += 1;
    return token;
  }

  private expression(least: number): FormulaNode {
    let left = this.operand();
    for (;;) {
      const operator = this.tokens[this.at] ?? '';
      if (operator === '?' && CHOICE_BINDING >= least) {
        this.take();
        const then = this.expression(0);
        this.take(':');
        left = { kind: 'choice', when: left, then, otherwise: this.expression(CHOICE_BINDING) };
        continue;
      }
      const binding = BINDING[operator];
      if (binding === undefined || binding < least) return left;
      this.take();
      // A power of a power is read from the right, everything else from the left.
      left = { kind: 'binary', operator, left, right: this.expression(operator === '^' ? binding : binding + 1) };
    }
  }

  private operand(): FormulaNode {
    const token = this.take();
    if (token === '-') return { kind: 'negative', operand: this.expression(NEGATIVE_BINDING) };
    if (token === '(') {
      const inner = this.expression(0);
      this.take(')');
      return inner;
    }
    if (/^\d/.test(token)) return { kind: 'number', text: token };
    if (token.startsWith('"')) return { kind: 'text', text: token.slice(1, -1) };
    if (!/^[A-Za-z]/.test(token)) throw new Unreadable();
    if (this.tokens[this.at] !== '(') return { kind: 'name', text: token };
    this.take('(');
    const operands: FormulaNode[] = [this.expression(0)];
    while (this.tokens[this.at] === ',') {
      this.take(',');
      operands.push(this.expression(0));
    }
    this.take(')');
    return { kind: 'call', name: token, operands };
  }
}

/** Reads a line such as `A_a = pi * (D^2 - d^2) / 4`; null when it is none: then the line is shown as it is. */
export function parseFormula(text: string): FormulaNode | null {
  const tokens = listTokens(text);
  if (tokens === null || tokens.length === 0) return null;
  try {
    return new Parser(tokens).whole();
  } catch (error) {
    if (error instanceof Unreadable) return null;
    throw error;
  }
}
