#include "tpt-figure-walk.h"

/* Nothing drawn is closer together than it can be pointed at. */
#define STRIDE 2.0

/* The figure a step looks at. */
typedef struct {
  TptFigure *figure;
  double width;
  double height;
  const TptFigureStyle *style;
} Ground;

void
tpt_walker_clear (TptWalker *self)
{
  tpt_hit_clear (&self->hit);
  *self = (TptWalker) { .hit = TPT_HIT_INIT };
}

static gboolean
look (const Ground *ground, double x, double y, TptHit *hit)
{
  return tpt_figure_hit (ground->figure, x, y, ground->width, ground->height, ground->style, hit);
}

static void
take (TptWalker *self, TptHit *hit, double x, double y)
{
  tpt_hit_clear (&self->hit);
  self->hit = *hit;
  self->x = x;
  self->y = y;
}

static gboolean
is_nearer (const TptWalker *self, const TptHit *hit, const TptHit *best, int sign)
{
  double ahead = sign * (hit->rect.x - self->hit.rect.x);

  return hit->kind != TPT_HIT_ROW && ahead > 0 &&
         (best->kind == TPT_HIT_NOTHING || ahead < sign * (best->rect.x - self->hit.rect.x));
}

/* Things come in the order of their left edges, so that a long bar is met once
 * and not again between the marks in front of it. */
static gboolean
step_along (TptWalker *self, const Ground *ground, int sign)
{
  TptHit best = TPT_HIT_INIT;

  for (double x = 0; x <= ground->width; x += STRIDE)
    {
      TptHit hit;

      if (!look (ground, x, self->y, &hit))
        continue;
      if (is_nearer (self, &hit, &best, sign))
        {
          tpt_hit_clear (&best);
          best = hit;
        }
      else
        tpt_hit_clear (&hit);
    }
  if (best.kind == TPT_HIT_NOTHING)
    return FALSE;
  take (self, &best, best.rect.x + best.rect.width / 2, self->y);
  return TRUE;
}

/* The middle of a row tells its own things from those of its neighbours. */
static void
settle (TptWalker *self, const Ground *ground)
{
  double y = self->hit.rect.y + self->hit.rect.height / 2;
  TptHit hit;

  if (!look (ground, self->x, y, &hit))
    return;
  if (hit.row == self->hit.row)
    take (self, &hit, self->x, y);
  else
    tpt_hit_clear (&hit);
}

static gboolean
step_across (TptWalker *self, const Ground *ground, int sign)
{
  for (double y = self->y + sign * STRIDE; y >= 0 && y <= ground->height; y += sign * STRIDE)
    {
      TptHit hit;

      if (!look (ground, self->x, y, &hit))
        continue;
      if (hit.row != self->hit.row)
        {
          take (self, &hit, self->x, y);
          settle (self, ground);
          return TRUE;
        }
      tpt_hit_clear (&hit);
    }
  return FALSE;
}

/* The leftmost thing, the upper one of two: in a chart of rows the first label. */
static gboolean
find_first (TptWalker *self, const Ground *ground)
{
  for (double x = 0; x <= ground->width; x += 4 * STRIDE)
    for (double y = 0; y <= ground->height; y += 2 * STRIDE)
      {
        TptHit hit;

        if (!look (ground, x, y, &hit))
          continue;
        take (self, &hit, x, y);
        settle (self, ground);
        return TRUE;
      }
  return FALSE;
}

gboolean
tpt_walker_step (TptWalker *self, TptWalk way, TptFigure *figure, double width, double height, const TptFigureStyle *style)
{
  Ground ground = { figure, width, height, style };

  if (self->hit.kind == TPT_HIT_NOTHING)
    return find_first (self, &ground);
  if (way == TPT_WALK_LEFT || way == TPT_WALK_RIGHT)
    return step_along (self, &ground, way == TPT_WALK_RIGHT ? 1 : -1);
  return step_across (self, &ground, way == TPT_WALK_DOWN ? 1 : -1);
}

gboolean
tpt_walker_look (TptWalker *self, TptFigure *figure, double width, double height, const TptFigureStyle *style)
{
  Ground ground = { figure, width, height, style };
  TptHit hit;

  if (self->hit.kind == TPT_HIT_NOTHING || !look (&ground, self->x, self->y, &hit))
    return FALSE;
  take (self, &hit, self->x, self->y);
  return TRUE;
}
