// The frame of every dialog: native, so that focus stays in it, Escape closes it and focus returns.
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import { askedAfterDialog } from "./after-dialog";

interface FrameProps {
  readonly title: string;
  readonly onClose: () => void;
  /** For what is read across, such as a table of a file. */
  readonly isWide?: boolean;
  readonly children: ComponentChildren;
}

/** A modal dialog with a title. */
export function Dialog({ title, onClose, isWide = false, children }: FrameProps) {
  const frame = useRef<HTMLDialogElement>(null);
  // In step with the drawing: what is undone after the next frame would take the keyboard from where a key put it meanwhile.
  useLayoutEffect(() => {
    const dialog = frame.current;
    const before = document.activeElement;
    dialog?.showModal();
    return () => {
      dialog?.close();
      const take = askedAfterDialog();
      if (take !== undefined) take();
      else if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={frame}
      aria-label={title}
      class={isWide ? "wide" : undefined}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      // A search field keeps Escape to itself in WebKit, so that nothing is cancelled there.
      onKeyDown={(event) => {
        if (event.key !== "Escape" || event.defaultPrevented) return;
        event.preventDefault();
        onClose();
      }}
    >
      <h2>{title}</h2>
      {children}
    </dialog>
  );
}

interface FieldProps {
  readonly label: string;
  readonly hint?: string;
  readonly children: ComponentChildren;
}

/** A labelled field; the label holds it, so that they belong together for everyone. */
export function Field({ label, hint, children }: FieldProps) {
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the control is passed in as the child
    <label class="field">
      <span>{label}</span>
      {children}
      {hint ? <small class="quiet">{hint}</small> : null}
    </label>
  );
}

interface ActionsProps {
  readonly act: string;
  readonly onClose: () => void;
  readonly disabled?: boolean;
}

/** The two buttons at the foot of a dialog's form. */
export function Actions({ act, onClose, disabled = false }: ActionsProps) {
  return (
    <div class="actions">
      <button type="button" onClick={onClose}>
        Close
      </button>
      <button type="submit" class="act" disabled={disabled}>
        {act}
      </button>
    </div>
  );
}

interface CloseProps {
  readonly onClose: () => void;
  /** Buttons before it. */
  readonly children?: ComponentChildren;
}

/** The foot of a dialog that is read and closed; among other buttons Close is the one that stands out. */
export function CloseActions({ onClose, children }: CloseProps) {
  return (
    <div class="actions">
      {children}
      <button type="button" class={children === undefined ? undefined : "act"} onClick={onClose}>
        Close
      </button>
    </div>
  );
}

/** What is wrong with a form, said to everyone at once. */
export function ProblemText({ text }: { readonly text: string }) {
  return text === "" ? null : (
    <p class="wrong" role="alert">
      {text}
    </p>
  );
}
