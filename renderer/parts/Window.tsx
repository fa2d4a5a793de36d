import type { ReactNode } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'

/** A dialog over the window. Escape closes it. */
export function Window(props: {
  title: string
  children: ReactNode
  foot?: ReactNode
  wide?: boolean
  /** Longer than the window and nothing in it to move to: the keyboard scrolls it. */
  isLong?: boolean
  isAlert?: boolean
  onClose: () => void
}) {
  return (
    <ModalOverlay
      className="overlay"
      isOpen
      isDismissable={!props.isAlert}
      onOpenChange={(isOpen) => !isOpen && props.onClose()}
    >
      <Modal className={`dialog-frame${props.wide ? ' dialog-wide' : ''}`}>
        <Dialog className="dialog" role={props.isAlert ? 'alertdialog' : 'dialog'}>
          <div className="dialog-head">
            <Heading slot="title" level={2}>
              {props.title}
            </Heading>
          </div>
          <div className="dialog-body" tabIndex={props.isLong ? 0 : -1}>
            {props.children}
          </div>
          {props.foot && <div className="dialog-foot">{props.foot}</div>}
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
