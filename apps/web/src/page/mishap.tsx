import { Component, type ReactNode } from "react";

interface State {
  readonly failed: string | null;
}

/** Says what went wrong on a page and what to do, instead of an empty screen. Kept records are not touched by it. */
export class Mishap extends Component<{ readonly children: ReactNode }, State> {
  override state: State = { failed: null };

  static getDerivedStateFromError(error: unknown): State {
    return { failed: error instanceof Error ? error.message : String(error) };
  }

  override render() {
    if (this.state.failed === null) return this.props.children;
    return (
      <div className="page" role="alert">
        <h1>This page could not be shown</h1>
        <p>
          What you entered is kept on this device. Load the page again; if it fails again, report these words:
        </p>
        <p className="figure">{this.state.failed}</p>
        <p>
          <button
            type="button"
            onClick={() => {
              window.location.reload();
            }}
          >
            Load again
          </button>
        </p>
      </div>
    );
  }
}
