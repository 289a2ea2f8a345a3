/** Keeps the page when the stage cannot be drawn: ribbon and card do without it. */
import { Component, type ReactNode } from 'react';
import './notices.css';

interface State {
  readonly failed: string | null;
}

export class StageBoundary extends Component<{ readonly children: ReactNode }, State> {
  override state: State = { failed: null };

  static getDerivedStateFromError(error: unknown): State {
    return { failed: error instanceof Error ? error.message : String(error) };
  }

  override render() {
    if (this.state.failed === null) return this.props.children;
    return (
      <div className="stage-failed" role="alert">
        <p>The stage cannot be drawn here: {this.state.failed}</p>
        <p>Ribbon, station card and sizes work without it.</p>
      </div>
    );
  }
}
