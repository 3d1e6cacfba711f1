import { type ReactNode, useEffect } from "react";

interface PageProps {
  readonly title: string;
  /** A line under the title. */
  readonly under?: ReactNode;
  readonly children: ReactNode;
}

/** One page: its title, which the browser's tab carries too, and one reading column. */
export function Page({ title, under, children }: PageProps) {
  useEffect(() => {
    document.title = `${title} · Earthbell`;
  }, [title]);
  return (
    <div className="page">
      <h1>{title}</h1>
      {under === undefined ? null : <p className="soft lead under">{under}</p>}
      {children}
    </div>
  );
}
