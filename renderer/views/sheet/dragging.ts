import type Konva from 'konva/lib/Core';
import { paintNow } from '../frame';
import type { View } from './view';

/** A press that moves less than this is a click, px. */
const CLICK_PX = 4;

/** What a drag of a node does; places are of the node, in the view's pixels. */
export interface Gesture {
  /** Pressed: not yet moved. */
  press?(): void;
  start?(): void;
  /** One step from the press's start; at most once a frame. */
  step(x: number, y: number): void;
  end?(): void;
  /** Taken back by Escape, or by the system. */
  cancel?(): void;
  /** Pressed and let go without moving. */
  click?(x: number, y: number): void;
}

type Event = Konva.KonvaEventObject<MouseEvent | TouchEvent>;

/** What a node listens to so that Konva drags it as a gesture. */
export function dragged(view: View, gesture: Gesture) {
  let moving = false;
  let frame = 0;
  /** From the node to the pointer. */
  let grab = { x: 0, y: 0 };
  const step = (): void => {
    cancelAnimationFrame(frame);
    frame = 0;
    gesture.step(view.pointer.x - grab.x, view.pointer.y - grab.y);
    paintNow();
  };
  const cancel = (): void => {
    cancelAnimationFrame(frame);
    frame = 0;
    if (moving) gesture.cancel?.();
    moving = false;
    paintNow();
  };
  const press = ({ currentTarget: node, evt }: Event): void => {
    if ('button' in evt && evt.button !== 0) return;
    view.held = {
      letGo: () => {
        cancel();
        node.stopDrag();
        view.aim(null);
      },
    };
    grab = { x: view.pointer.x - node.x(), y: view.pointer.y - node.y() };
    gesture.press?.();
  };
  const click = ({ evt }: Event): void => {
    if (!('button' in evt && evt.button !== 0)) gesture.click?.(...view.pointerPx);
    paintNow();
  };
  return {
    draggable: true,
    dragDistance: CLICK_PX,
    onMouseDown: press,
    onTouchStart: press,
    onClick: click,
    onTap: click,
    onDragStart: () => {
      moving = true;
      gesture.start?.();
    },
    onDragMove: () => {
      if (frame === 0) frame = requestAnimationFrame(step);
    },
    onDragEnd: ({ evt }: Konva.KonvaEventObject<DragEvent>) => {
      if (!moving) return;
      if ((evt as Event['evt'] | undefined)?.type === 'touchcancel') return cancel();
      if (frame !== 0) step();
      moving = false;
      gesture.end?.();
      paintNow();
    },
  };
}
