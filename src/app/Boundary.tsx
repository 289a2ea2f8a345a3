/**
 * Keeps the page when a part of it cannot be drawn, or its script cannot be fetched: says so, and offers to load it again.
 * Give it its name as key, so that another room in the same place gets its own try.
 */
import { Component, type ReactNode } from 'react';
import { useKeep } from '../state/keep';
import css from './Boundary.module.css';

interface Props {
  /** What stands inside, as the maker calls it. */
  readonly name: string;
  /** What works without it. */
  readonly without: string;
  /** What stands there all the same. */
  readonly beside?: ReactNode;
  /** Told when it cannot be shown. */
  readonly failed?: () => void;
  readonly children: ReactNode;
}

interface State {
  readonly failed: string | null;
}

/** A script that did not come: an update taken in another tab removed it, or there is no network. */
const NOT_FETCHED = /dynamically imported module|Importing a module script failed|error loading|Unable to preload/i;

export class Boundary extends Component<Props, State> {
  override state: State = { failed: null };

  static getDerivedStateFromError(error: unknown): State {
    return { failed: error instanceof Error ? error.message : String(error) };
  }

  override componentDidCatch() {
    this.props.failed?.();
  }

  override render() {
    const { failed } = this.state;
    if (failed === null) return this.props.children;
    return (
      <>
        {this.props.beside}
        <section className={css.failed} role="alert" aria-label={`${this.props.name} is not there`}>
          <p>{this.props.name} cannot be shown: {NOT_FETCHED.test(failed) ? 'its script could not be fetched. There may be no network, or a newer Railwright was taken in another tab.' : failed}</p>
          <p>{useKeep.getState().status === 'failed' ? 'Your changes are not being kept: save the board to a file.' : 'Your board is kept.'} {this.props.without}</p>
          <button type="button" className="ruled" onClick={() => location.reload()}>Load the page again</button>
        </section>
      </>
    );
  }
}
