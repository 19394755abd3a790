import { Link } from './link';
import type { ComponentProps } from 'react';
import styles from './button.module.css';

type Look = 'strong' | 'quiet' | 'plain';

function toClass(look: Look, extra: string | undefined): string {
  const lookClass = look === 'quiet' ? '' : (styles[look] ?? '');
  return [styles['button'], lookClass, extra].filter(Boolean).join(' ');
}

export function Button({
  look = 'quiet',
  className,
  type = 'button',
  ...rest
}: ComponentProps<'button'> & { look?: Look }) {
  return <button type={type} className={toClass(look, className)} {...rest} />;
}

export function ButtonLink({ look = 'quiet', className, ...rest }: ComponentProps<typeof Link> & { look?: Look }) {
  return <Link className={toClass(look, className)} {...rest} />;
}
