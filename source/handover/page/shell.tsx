import type { ReactNode } from 'react';
import { POLICY } from './policy.ts';

/** What every page has around its body: it asks nothing of any network, and tells none where it was opened from. */
export function PageShell({
  title,
  style,
  children,
}: {
  readonly title: string;
  readonly style: string;
  readonly children?: ReactNode;
}) {
  return (
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta httpEquiv="Content-Security-Policy" content={POLICY} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <title>{title}</title>
        <style>{style}</style>
      </head>
      <body>{children}</body>
    </html>
  );
}
