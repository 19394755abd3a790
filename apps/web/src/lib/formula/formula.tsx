'use client';

import { createElement, type ReactNode } from 'react';
import { parseFormula, type FormulaNode } from './parse-formula';

const GREEK: Readonly<Record<string, string>> = {
  alpha: 'α', beta: 'β', gamma: 'γ', delta: 'δ', eps: 'ε', eta: 'η', lambda: 'λ', kappa: 'κ', mu: 'μ', nu: 'ν', phi: 'φ', pi: 'π', rho: 'ρ', sigma: 'σ',
  tau: 'τ', dp: 'Δp', dT: 'ΔT', dV: 'ΔV',
}; // prettier-ignore
const SIGNS: Readonly<Record<string, string>> = { '*': '·', '-': '−', '<=': '≤', '>=': '≥' };
const LOOSE: Readonly<Record<string, number>> = {
  '=': 1,
  '<': 3,
  '>': 3,
  '<=': 3,
  '>=': 3,
  '+': 4,
  '-': 4,
  '*': 5,
  '/': 6,
};

const el = (tag: string, ...children: ReactNode[]): ReactNode => createElement(tag, null, ...children);
const sign = (text: string): ReactNode => el('mo', text);
const fenced = (inner: ReactNode): ReactNode => el('mrow', sign('('), inner, sign(')'));

function toName(text: string): ReactNode {
  const [stem = '', ...below] = text.split('_');
  const shown = el('mi', GREEK[stem] ?? stem);
  return below.length === 0 ? shown : el('msub', shown, el('mi', below.join(' ')));
}

function toNumber(text: string): ReactNode {
  const [digits = '', power] = text.split('e');
  if (power === undefined) return el('mn', digits);
  const ten = el('msup', el('mn', '10'), el('mn', power.replace('-', '−')));
  return digits === '1' ? ten : el('mrow', el('mn', digits), sign('·'), ten);
}

/** Brackets only where reading would go wrong without: fractions, roots and powers bracket by themselves. */
function toPart(node: FormulaNode, least: number): ReactNode {
  const shown = toMath(node);
  if (node.kind === 'choice') return fenced(shown);
  if (node.kind === 'negative') return least > 4 ? fenced(shown) : shown;
  if (node.kind !== 'binary' || node.operator === '/' || node.operator === '^') return shown;
  return (LOOSE[node.operator] ?? 0) < least ? fenced(shown) : shown;
}

function toCall(name: string, operands: readonly FormulaNode[]): ReactNode {
  const [first, second] = operands;
  if (first === undefined) return toName(name);
  if (name === 'sqrt') return el('msqrt', toMath(first));
  if (name === 'abs') return el('mrow', sign('|'), toMath(first), sign('|'));
  if (name === 'equalText' && second !== undefined) return el('mrow', toMath(first), sign('='), toMath(second));
  const shown =
    name === 'log' ? el('mi', 'ln') : name === 'log10' ? el('msub', el('mi', 'log'), el('mn', '10')) : el('mi', name);
  const inner = operands.flatMap((part, index) => (index === 0 ? [toMath(part)] : [sign(','), toMath(part)]));
  return el('mrow', shown, fenced(el('mrow', ...inner)));
}

function toMath(node: FormulaNode): ReactNode {
  switch (node.kind) {
    case 'number':
      return toNumber(node.text);
    case 'name':
      return toName(node.text);
    case 'text':
      return el('mtext', node.text);
    case 'negative':
      return el('mrow', sign('−'), toPart(node.operand, 5));
    case 'call':
      return toCall(node.name, node.operands);
    case 'choice':
      return el(
        'mtable',
        el('mtr', el('mtd', toMath(node.then)), el('mtd', toMath(node.when))),
        el('mtr', el('mtd', toMath(node.otherwise)), el('mtd', el('mtext', '…'))),
      );
    case 'binary': {
      const { operator, left, right } = node;
      if (operator === '/') return createElement('mfrac', { displaystyle: 'true' }, toMath(left), toMath(right));
      if (operator === '^') {
        const needsFence = left.kind !== 'name' && left.kind !== 'number';
        return el('msup', needsFence ? fenced(toMath(left)) : toMath(left), toMath(right));
      }
      const binding = LOOSE[operator] ?? 0;
      const after = operator === '-' ? binding + 1 : binding;
      return el('mrow', toPart(left, binding), sign(SIGNS[operator] ?? operator), toPart(right, after));
    }
  }
}

/** A symbol in a line of text, typeset as in the formula. */
export function Symbol({ text }: { text: string }) {
  return createElement('math', null, toName(text));
}

/** One formula, typeset as MathML so that it is read out too; a line that is none is shown as it is. */
export function Formula({ text }: { text: string }) {
  const tree = parseFormula(text);
  if (tree === null) return <code>{text}</code>;
  return createElement('math', { display: 'block' }, toMath(tree));
}
