/** How to photograph a lid: square to its side, the lens at hinge height, some metres off, a rule on the side. */
export function StandSquare(): React.JSX.Element {
  return (
    <svg
      viewBox="0 0 232 150"
      className="stand-square"
      role="img"
      aria-label="The camera at hinge height, square to the side"
    >
      <path d="M6 130H226" className="stand-ink heavy" />
      <rect x="116" y="68" width="88" height="62" className="stand-ink" />
      <rect x="110" y="60" width="98" height="8" className="stand-ink heavy" />
      <circle cx="206" cy="64" r="4.5" className="stand-hole" />
      <rect x="124" y="94" width="50" height="7" className="stand-ink" />
      <path d="M134 94v4M144 94v4M154 94v4M164 94v4" className="stand-ink" />
      <rect x="12" y="56" width="20" height="15" className="stand-solid" />
      <circle cx="35" cy="63.5" r="5" className="stand-hole" />
      <path d="M22 71v59" className="stand-ink" />
      <path d="M44 63.5H198" className="stand-axis" />
      <path d="M42 60L110 24M42 67L110 124" className="stand-sight" />
      <path d="M22 144H160M26 141l-4 3 4 3M156 141l4 3-4 3" className="stand-ink" />
      <text x="91" y="140" textAnchor="middle">
        3 m or more
      </text>
    </svg>
  );
}
