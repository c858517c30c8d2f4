/* How the layer of symbols is drawn. */
#include <math.h>

#include "tpt-map-marks-private.h"

#define NAME_GAP 2
#define RING_GAP 5
#define RING_WIDTH 2.5
#define CROSS_ARM 14

/* Past so many in sight, names would only cover one another. */
#define MOST_NAMES 250
#define RECEDED 0.3
#define CHOSEN_GAP 1.5
#define CHOSEN_WIDTH 2

/* A mark within sight, at its pixel. */
typedef struct {
  const TptMapMark *mark;
  int position;
  double diameter;
  double px;
  double py;
  gboolean receding;
} Seen;

/**
 * Scene: what one drawing needs.
 * @seen: (owned) (element-type Seen): in the order of the marks
 * @stack: (owned) (element-type Seen): from the back to the front
 * @taken: (owned) (element-type graphene_rect_t): where no name may go
 */
typedef struct {
  GtkSnapshot *snapshot;
  double width;
  double height;
  GArray *seen;
  GPtrArray *stack;
  GArray *taken;
} Scene;

static void
collect_seen (TptMapMarks *self, Scene *scene)
{
  TptMapFrame frame = tpt_map_marks_get_frame (self);

  for (guint i = 0; i < self->marks->len; i++)
    {
      Seen seen = { .mark = g_ptr_array_index (self->marks, i),
                    .position = (int) i,
                    .diameter = tpt_map_marks_get_diameter (self, i),
                    .receding = self->chosen != NULL && !tpt_map_marks_is_chosen (self, i) };
      double margin = seen.diameter;

      tpt_map_frame_place (&frame, seen.mark->x, seen.mark->y, &seen.px, &seen.py);
      if (seen.px > -margin && seen.py > -margin && seen.px < scene->width + margin && seen.py < scene->height + margin)
        g_array_append_val (scene->seen, seen);
    }
}

static void
append_sprite (Scene *scene, TptMapSprite sprite, double left, double top)
{
  gtk_snapshot_append_texture (scene->snapshot, sprite.texture,
                               &GRAPHENE_RECT_INIT (round (left), round (top), sprite.width, sprite.height));
}

/* Whether a disc in front covers part of @words, which stand in the middle of @place. */
static gboolean
is_covered (const Scene *scene, guint level, double px, double py, double reach)
{
  for (guint i = level + 1; i < scene->stack->len; i++)
    {
      const Seen *front = g_ptr_array_index (scene->stack, i);

      if (hypot (front->px - px, front->py - py) < front->diameter / 2 + reach)
        return TRUE;
    }
  return FALSE;
}

/* In the middle, or as far aside as the disc allows when another lies on it there. */
static void
draw_number (TptMapMarks *self, Scene *scene, guint level)
{
  static const int ways[][2] = { { 0, 0 }, { 0, -1 }, { 0, 1 }, { -1, 0 }, { 1, 0 } };
  const Seen *seen = g_ptr_array_index (scene->stack, level);
  TptMapSprite sprite = tpt_map_sprites_get_number (self->sprites, seen->mark->number);
  double reach = hypot (sprite.width, sprite.height * 0.7) / 2, slack = seen->diameter / 2 - 1 - reach;

  for (gsize i = 0; i < G_N_ELEMENTS (ways) && slack >= 0; i++)
    {
      double px = seen->px + ways[i][0] * slack, py = seen->py + ways[i][1] * slack;

      if (is_covered (scene, level, px, py, reach))
        continue;
      append_sprite (scene, sprite, px - sprite.width / 2, py - sprite.height / 2);
      return;
    }
}

static void
draw_symbol (TptMapMarks *self, Scene *scene, guint level)
{
  const Seen *seen = g_ptr_array_index (scene->stack, level);
  TptMapMark mark = *seen->mark;
  TptMapSprite sprite;
  graphene_rect_t place;

  mark.diameter = seen->diameter;
  sprite = tpt_map_sprites_get_symbol (self->sprites, &mark);
  place = GRAPHENE_RECT_INIT (seen->px - sprite.width / 2, seen->py - sprite.height / 2, sprite.width, sprite.height);
  if (seen->receding)
    gtk_snapshot_push_opacity (scene->snapshot, RECEDED);
  append_sprite (scene, sprite, place.origin.x, place.origin.y);
  if (mark.number != NULL)
    draw_number (self, scene, level);
  if (seen->receding)
    gtk_snapshot_pop (scene->snapshot);
  g_array_append_val (scene->taken, place);
}

static gboolean
is_inside (const Scene *scene, const graphene_rect_t *place)
{
  return place->origin.x >= 0 && place->origin.y >= 0 && place->origin.x + place->size.width <= scene->width &&
         place->origin.y + place->size.height <= scene->height;
}

/* How much of @place is taken already, in square pixels; all of it past the edge. */
static double
measure_taken (const Scene *scene, const graphene_rect_t *place)
{
  double taken = is_inside (scene, place) ? 0 : place->size.width * place->size.height;

  for (guint i = 0; i < scene->taken->len; i++)
    {
      graphene_rect_t shared;

      if (graphene_rect_intersection (place, &g_array_index (scene->taken, graphene_rect_t, i), &shared))
        taken += MAX (shared.size.width * shared.size.height, 1);
    }
  return taken;
}

/* Right of the symbol, else left, below, above, or at a corner; where none of them is free the
 * one that covers least, and %FALSE. @rings are around it. */
static gboolean
find_place (const Scene *scene, const Seen *seen, TptMapSprite name, gboolean rings, graphene_rect_t *place)
{
  double away = seen->diameter / 2 + NAME_GAP + (rings ? RING_GAP + 2 * RING_WIDTH : 0);
  double aside = away * G_SQRT2 / 2, least = G_MAXDOUBLE;
  const double corners[][2] = {
    { away, -name.height / 2 },
    { -away - name.width, -name.height / 2 },
    { -name.width / 2, away },
    { -name.width / 2, -away - name.height },
    { aside, aside - name.height / 2 },
    { aside, -aside - name.height / 2 },
    { -aside - name.width, aside - name.height / 2 },
    { -aside - name.width, -aside - name.height / 2 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (corners) && least > 0; i++)
    {
      graphene_rect_t tried =
        GRAPHENE_RECT_INIT (seen->px + corners[i][0], seen->py + corners[i][1], name.width, name.height);
      double taken = measure_taken (scene, &tried);

      if (taken >= least)
        continue;
      least = taken;
      *place = tried;
    }
  return least <= 0;
}

static void
draw_name (TptMapMarks *self, Scene *scene, const Seen *seen, gboolean must)
{
  TptMapSprite name = tpt_map_sprites_get_name (self->sprites, seen->mark->title, must);
  graphene_rect_t place;

  if (!find_place (scene, seen, name, must, &place) && !must)
    return;
  append_sprite (scene, name, place.origin.x, place.origin.y);
  g_array_append_val (scene->taken, place);
}

static gboolean
is_pointed_out (TptMapMarks *self, const Seen *seen)
{
  return seen->position == self->selected || seen->position == self->cursor;
}

/* Those pointed out have the first pick of a place for their names; those that recede have none. */
static void
draw_names (TptMapMarks *self, Scene *scene)
{
  for (guint i = 0; i < scene->seen->len; i++)
    {
      const Seen *seen = &g_array_index (scene->seen, Seen, i);

      if (is_pointed_out (self, seen))
        draw_name (self, scene, seen, TRUE);
    }
  for (guint i = 0; i < scene->seen->len && scene->seen->len <= MOST_NAMES; i++)
    {
      const Seen *seen = &g_array_index (scene->seen, Seen, i);

      if (!is_pointed_out (self, seen) && !seen->receding)
        draw_name (self, scene, seen, FALSE);
    }
}

static void
draw_ring (Scene *scene, const Seen *seen, TptColorRole role, double gap, float width)
{
  float radius = (float) (seen->diameter / 2 + gap);
  GskRoundedRect outline;
  GdkRGBA color;

  tpt_map_rgba (role, 1, &color);
  gsk_rounded_rect_init_from_rect (&outline,
                                   &GRAPHENE_RECT_INIT (seen->px - radius, seen->py - radius, 2 * radius, 2 * radius),
                                   radius);
  gtk_snapshot_append_border (scene->snapshot, &outline, (float[4]) { width, width, width, width },
                              (GdkRGBA[4]) { color, color, color, color });
}

static void
draw_rings (TptMapMarks *self, Scene *scene)
{
  for (guint i = 0; i < scene->seen->len; i++)
    {
      const Seen *seen = &g_array_index (scene->seen, Seen, i);

      if (self->chosen != NULL && !seen->receding)
        draw_ring (scene, seen, TPT_COLOR_INK, CHOSEN_GAP + CHOSEN_WIDTH, CHOSEN_WIDTH);
      if (seen->position == self->selected)
        draw_ring (scene, seen, TPT_COLOR_ACCENT, RING_GAP, RING_WIDTH);
      if (seen->position == self->cursor)
        draw_ring (scene, seen, TPT_COLOR_INK, RING_GAP + RING_WIDTH + 1, RING_WIDTH);
    }
}

static void
draw_cross (Scene *scene)
{
  double x = round (scene->width / 2), y = round (scene->height / 2);
  GdkRGBA ink;

  tpt_map_rgba (TPT_COLOR_INK, 1, &ink);
  gtk_snapshot_append_color (scene->snapshot, &ink, &GRAPHENE_RECT_INIT (x - CROSS_ARM, y - 1, 2 * CROSS_ARM, 2));
  gtk_snapshot_append_color (scene->snapshot, &ink, &GRAPHENE_RECT_INIT (x - 1, y - CROSS_ARM, 2, 2 * CROSS_ARM));
}

static void
draw_box (TptMapMarks *self, Scene *scene)
{
  GskRoundedRect outline;
  GdkRGBA fill, line;

  tpt_map_rgba (TPT_COLOR_ACCENT, 0.15, &fill);
  tpt_map_rgba (TPT_COLOR_ACCENT, 1, &line);
  gtk_snapshot_append_color (scene->snapshot, &fill, &self->box);
  gsk_rounded_rect_init_from_rect (&outline, &self->box, 0);
  gtk_snapshot_append_border (scene->snapshot, &outline, (float[4]) { 1, 1, 1, 1 },
                              (GdkRGBA[4]) { line, line, line, line });
}

/* The larger lie behind the smaller; of two alike the first mark, the more urgent one, on top. */
static int
compare_seen (gconstpointer a, gconstpointer b)
{
  const Seen *left = *(const Seen *const *) a, *right = *(const Seen *const *) b;

  if (left->receding != right->receding)
    return left->receding ? -1 : 1;
  if (left->diameter != right->diameter)
    return left->diameter > right->diameter ? -1 : 1;
  return right->position - left->position;
}

static void
draw_symbols (TptMapMarks *self, Scene *scene)
{
  for (guint i = 0; i < scene->seen->len; i++)
    g_ptr_array_add (scene->stack, &g_array_index (scene->seen, Seen, i));
  g_ptr_array_sort (scene->stack, compare_seen);
  for (guint i = 0; i < scene->stack->len; i++)
    draw_symbol (self, scene, i);
}

void
tpt_map_marks_draw (TptMapMarks *self, GtkSnapshot *snapshot, double width, double height)
{
  Scene scene = { .snapshot = snapshot, .width = width, .height = height };

  scene.seen = g_array_new (FALSE, FALSE, sizeof (Seen));
  scene.stack = g_ptr_array_new ();
  scene.taken = g_array_new (FALSE, FALSE, sizeof (graphene_rect_t));
  g_array_append_vals (scene.taken, self->hidden->data, self->hidden->len);
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  collect_seen (self, &scene);
  draw_symbols (self, &scene);
  draw_rings (self, &scene);
  draw_names (self, &scene);
  if (self->has_box)
    draw_box (self, &scene);
  if (self->cross)
    draw_cross (&scene);
  gtk_snapshot_pop (snapshot);
  g_ptr_array_unref (scene.stack);
  g_array_unref (scene.seen);
  g_array_unref (scene.taken);
}
