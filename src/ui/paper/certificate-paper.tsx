// Certificates: which piece of which edition, what it is, how it is used, and room to sign.
import type { PieceLabel } from "../../app/paper/piece-label";
import "./labels.css";
import { Facts, type Heading, Lines } from "./parts";

interface CertificatesProps {
  readonly labels: readonly PieceLabel[];
  readonly heading: Heading;
  /** Whether every certificate begins a page of its own. */
  readonly aPage: boolean;
}

const SIGNED = [
  { label: "Signed", text: "" },
  { label: "Day", text: "" },
];

/** A certificate for each piece. */
export function CertificatePaper({ labels, heading, aPage }: CertificatesProps) {
  return (
    <>
      {labels.map(({ row, number, facts, words }) => (
        <section class={aPage ? "leaf certificate" : "leaf certificate follows"} key={row}>
          <h3>{heading.edition}</h3>
          <p class="which-one">{number}</p>
          <Facts facts={facts} />
          {words.map((line) => (
            <p key={line}>{line}</p>
          ))}
          <Lines lines={SIGNED} />
          {heading.isInvented ? <p>Invented, to try things on</p> : null}
        </section>
      ))}
    </>
  );
}
