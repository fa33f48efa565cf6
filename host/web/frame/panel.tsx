import type { ComponentChildren, JSX } from 'preact';

type PanelProps = {
  /** What this page is about: the gauge, or the page's own name. */
  readonly title?: string;
  /** In one line: the vehicle, where it is, which card. */
  readonly whose?: string;
  readonly isSimulated?: boolean;
  /** How it stands with the box. */
  readonly lamp?: ComponentChildren;
  /** The scale under the bar. */
  readonly children?: ComponentChildren;
};

/** Everything that moves or measures stands on black: the bar of every view, and the scale under it. */
export const Panel = (props: PanelProps): JSX.Element => (
  <header class={`panel ${props.isSimulated === true ? 'panel-simulated' : ''}`}>
    <div class="wrap bar">
      <a class="brand" href="#/" aria-label="Needlewright: all jobs">
        <BrandMark />
        <span class="brand-name">Needlewright</span>
      </a>
      {props.title === undefined ? null : <h1 class="bar-title">{props.title}</h1>}
      {props.whose === undefined ? null : <span class="whose">{props.whose}</span>}
      {props.isSimulated === true ? <span class="simulated-tag">SIMULATED</span> : null}
      {props.lamp}
    </div>
    {props.children}
  </header>
);

/** The house's mark: a scale and its needle. */
const BrandMark = (): JSX.Element => (
  <svg class="brand-mark" viewBox="0 0 30 24" aria-hidden="true">
    <path
      class="brand-scale"
      d="M3 20a12.5 12.5 0 0 1 24 0M3 20l3.2-.9M6 11l2.6 2M15 7v3.2M24 11l-2.6 2M27 20l-3.2-.9"
    />
    <path class="brand-needle" d="M14 21.5L21.5 9.5L17 22.5z" />
  </svg>
);
