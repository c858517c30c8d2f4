/* Goes from thing to thing in a figure, for the keyboard. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

typedef enum {
  TPT_WALK_LEFT,
  TPT_WALK_RIGHT,
  TPT_WALK_UP,
  TPT_WALK_DOWN,
} TptWalk;

/**
 * TptWalker: where the keyboard is in a figure.
 * @hit: (owned): what is there; %TPT_HIT_NOTHING before the first step
 * @x: in units of the figure
 * @y: the same
 */
typedef struct {
  TptHit hit;
  double x;
  double y;
} TptWalker;

void tpt_walker_clear (TptWalker *self);

/**
 * tpt_walker_step:
 * @way: left and right go along the row, up and down to the next row
 *
 * Looks at the figure as it was drawn at @width by @height with @style. The
 * first step finds the leftmost thing, the uppermost of several.
 *
 * Returns: %FALSE, and nothing changes, when nothing lies that way
 */
gboolean tpt_walker_step (TptWalker *self, TptWalk way, TptFigure *figure, double width, double height,
                          const TptFigureStyle *style);

/**
 * tpt_walker_look:
 *
 * Looks again where the keyboard was, in another figure or one drawn otherwise.
 *
 * Returns: %FALSE, and nothing changes, when nothing is there
 */
gboolean tpt_walker_look (TptWalker *self, TptFigure *figure, double width, double height,
                          const TptFigureStyle *style);

G_END_DECLS
