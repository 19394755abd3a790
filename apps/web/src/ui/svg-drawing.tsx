import { createElement, type ReactNode } from 'react';
import type { SvgElement, SvgNode } from '@repo/drawing';

const RENAMED: Readonly<Record<string, string>> = { class: 'className', tabindex: 'tabIndex' };

/** `stroke-width` → `strokeWidth`; `aria-` and `data-` stay as they are. */
function toPropertyName(name: string): string {
  if (name.startsWith('aria-') || name.startsWith('data-')) return name;
  return RENAMED[name] ?? name.replace(/-([a-z])/g, (_whole, letter: string) => letter.toUpperCase());
}

function toNode(node: SvgNode, key: number): ReactNode {
  if (typeof node === 'string') return node;
  const properties: Record<string, string | number> = { key };
  for (const [name, value] of Object.entries(node.attributes)) properties[toPropertyName(name)] = value;
  return createElement(node.tag, properties, ...node.children.map(toNode));
}

/** Puts a drawing on the page. */
export function SvgDrawing({ drawing }: { drawing: SvgElement }) {
  return toNode(drawing, 0);
}
