#include "tpt-map-marks.h"

#include <math.h>

#include "tpt-map-frame.h"
#include "tpt-map-sprites.h"

#define NAME_GAP 2
#define RING_GAP 5
#define RING_WIDTH 2.5
#define CROSS_ARM 14

/* Past so many in sight, names would only cover one another. */
#define MOST_NAMES 250
#define RECEDED 0.3
#define CHOSEN_GAP 1.5
#define CHOSEN_WIDTH 2

struct _TptMapMarks {
  ShumateLayer parent_instance;

  GPtrArray *marks;       /* (owned) (element-type TptMapMark) */
  TptMapSprites *sprites; /* (owned) */
  int selected;
  int cursor;
  GStrv chosen; /* (owned) (nullable): codes */
  double shrink; /* of discs, to a share of what marks are made with */
  graphene_rect_t box;
  gboolean has_box;
  gboolean cross;
};

G_DEFINE_FINAL_TYPE (TptMapMarks, tpt_map_marks, SHUMATE_TYPE_LAYER)

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

static TptMapFrame
get_frame (TptMapMarks *self)
{
  return tpt_map_frame_of (shumate_layer_get_viewport (SHUMATE_LAYER (self)), gtk_widget_get_width (GTK_WIDGET (self)),
                           gtk_widget_get_height (GTK_WIDGET (self)));
}

static void
collect_seen (TptMapMarks *self, Scene *scene)
{
  TptMapFrame frame = get_frame (self);

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
is_free (const Scene *scene, const graphene_rect_t *place)
{
  if (place->origin.x < 0 || place->origin.y < 0 || place->origin.x + place->size.width > scene->width ||
      place->origin.y + place->size.height > scene->height)
    return FALSE;
  for (guint i = 0; i < scene->taken->len; i++)
    if (graphene_rect_intersection (place, &g_array_index (scene->taken, graphene_rect_t, i), NULL))
      return FALSE;
  return TRUE;
}

/* Right of the symbol, else left, below, above, or at a corner. @rings are
 * around it. */
static gboolean
find_place (const Scene *scene, const Seen *seen, TptMapSprite name, gboolean rings, graphene_rect_t *place)
{
  double away = seen->diameter / 2 + NAME_GAP + (rings ? RING_GAP + 2 * RING_WIDTH : 0);
  double aside = away * G_SQRT2 / 2;
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

  for (guint i = 0; i < G_N_ELEMENTS (corners); i++)
    {
      *place = GRAPHENE_RECT_INIT (seen->px + corners[i][0], seen->py + corners[i][1], name.width, name.height);
      if (is_free (scene, place))
        return TRUE;
    }
  *place = GRAPHENE_RECT_INIT (seen->px + corners[0][0], seen->py + corners[0][1], name.width, name.height);
  return FALSE;
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

static void
tpt_map_marks_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptMapMarks *self = TPT_MAP_MARKS (widget);
  Scene scene = {
    .snapshot = snapshot,
    .width = gtk_widget_get_width (widget),
    .height = gtk_widget_get_height (widget),
  };

  if (scene.width <= 0 || scene.height <= 0)
    return;

  scene.seen = g_array_new (FALSE, FALSE, sizeof (Seen));
  scene.stack = g_ptr_array_new ();
  scene.taken = g_array_new (FALSE, FALSE, sizeof (graphene_rect_t));
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, scene.width, scene.height));
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

static void
tpt_map_marks_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  tpt_map_sprites_forget (TPT_MAP_MARKS (widget)->sprites);
  GTK_WIDGET_CLASS (tpt_map_marks_parent_class)->system_setting_changed (widget, setting);
}

static void
tpt_map_marks_constructed (GObject *object)
{
  G_OBJECT_CLASS (tpt_map_marks_parent_class)->constructed (object);
  tpt_map_layer_follow (SHUMATE_LAYER (object));
}

static void
tpt_map_marks_finalize (GObject *object)
{
  TptMapMarks *self = TPT_MAP_MARKS (object);

  g_ptr_array_unref (self->marks);
  g_strfreev (self->chosen);
  tpt_map_sprites_free (self->sprites);
  G_OBJECT_CLASS (tpt_map_marks_parent_class)->finalize (object);
}

static void
tpt_map_marks_class_init (TptMapMarksClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->constructed = tpt_map_marks_constructed;
  object_class->finalize = tpt_map_marks_finalize;
  widget_class->snapshot = tpt_map_marks_snapshot;
  widget_class->system_setting_changed = tpt_map_marks_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
tpt_map_marks_init (TptMapMarks *self)
{
  self->marks = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_map_mark_free);
  self->sprites = tpt_map_sprites_new (GTK_WIDGET (self));
  self->selected = -1;
  self->cursor = -1;
  self->shrink = 1;
}

ShumateLayer *
tpt_map_marks_new (ShumateViewport *viewport)
{
  return g_object_new (TPT_TYPE_MAP_MARKS, "viewport", viewport, NULL);
}

void
tpt_map_marks_take (TptMapMarks *self, GPtrArray *marks)
{
  g_ptr_array_unref (self->marks);
  self->marks = marks;
  self->selected = -1;
  self->cursor = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

guint
tpt_map_marks_get_n_marks (TptMapMarks *self)
{
  return self->marks->len;
}

const TptMapMark *
tpt_map_marks_get (TptMapMarks *self, guint position)
{
  return g_ptr_array_index (self->marks, position);
}

int
tpt_map_marks_find (TptMapMarks *self, const char *code)
{
  for (guint i = 0; code != NULL && i < self->marks->len; i++)
    if (g_strcmp0 (tpt_map_marks_get (self, i)->code, code) == 0)
      return (int) i;
  return -1;
}

void
tpt_map_marks_get_pixel (TptMapMarks *self, guint position, double *px, double *py)
{
  const TptMapMark *mark = tpt_map_marks_get (self, position);
  TptMapFrame frame = get_frame (self);

  tpt_map_frame_place (&frame, mark->x, mark->y, px, py);
}

int
tpt_map_marks_find_near (TptMapMarks *self, double px, double py, double distance)
{
  TptMapFrame frame = get_frame (self);
  double best = distance;
  int found = -1;

  for (guint i = 0; i < self->marks->len; i++)
    {
      const TptMapMark *mark = tpt_map_marks_get (self, i);
      double x, y, away;

      tpt_map_frame_place (&frame, mark->x, mark->y, &x, &y);
      away = hypot (x - px, y - py);
      if (away > best || (away == best && found >= 0))
        continue;
      best = away;
      found = (int) i;
    }
  return found;
}

void
tpt_map_marks_set_selected (TptMapMarks *self, int position)
{
  self->selected = position;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_map_marks_set_cursor (TptMapMarks *self, int position)
{
  self->cursor = position;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

int
tpt_map_marks_get_cursor (TptMapMarks *self)
{
  return self->cursor;
}

void
tpt_map_marks_set_chosen (TptMapMarks *self, const char *const *codes)
{
  GStrv before = self->chosen;

  self->chosen = codes != NULL && codes[0] != NULL ? g_strdupv ((char **) codes) : NULL;
  g_strfreev (before);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

guint
tpt_map_marks_get_n_chosen (TptMapMarks *self)
{
  return self->chosen != NULL ? g_strv_length (self->chosen) : 0;
}

gboolean
tpt_map_marks_is_chosen (TptMapMarks *self, guint position)
{
  const TptMapMark *mark = tpt_map_marks_get (self, position);

  return self->chosen != NULL && mark->code != NULL && g_strv_contains ((const char *const *) self->chosen, mark->code);
}

void
tpt_map_marks_set_largest (TptMapMarks *self, double diameter)
{
  double shrink = MIN (diameter / TPT_MAP_LARGEST_DISC, 1);

  if (shrink == self->shrink)
    return;
  self->shrink = shrink;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

double
tpt_map_marks_get_diameter (TptMapMarks *self, guint position)
{
  const TptMapMark *mark = tpt_map_marks_get (self, position);

  return mark->kind == TPT_MARK_SEEN ? MAX (mark->diameter * self->shrink, TPT_MAP_SMALLEST_DISC) : mark->diameter;
}

void
tpt_map_marks_set_box (TptMapMarks *self, const graphene_rect_t *box)
{
  self->has_box = box != NULL;
  if (box != NULL)
    self->box = *box;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

GStrv
tpt_map_marks_find_within (TptMapMarks *self, const graphene_rect_t *box)
{
  g_autoptr (GStrvBuilder) codes = g_strv_builder_new ();

  for (guint i = 0; i < self->marks->len; i++)
    {
      double px, py;

      tpt_map_marks_get_pixel (self, i, &px, &py);
      if (tpt_map_marks_get (self, i)->code != NULL &&
          graphene_rect_contains_point (box, &GRAPHENE_POINT_INIT ((float) px, (float) py)))
        g_strv_builder_add (codes, tpt_map_marks_get (self, i)->code);
    }
  return g_strv_builder_end (codes);
}

void
tpt_map_marks_set_cross (TptMapMarks *self, gboolean cross)
{
  self->cross = cross;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
tpt_map_marks_get_box (TptMapMarks *self, double *left, double *top, double *right, double *bottom)
{
  *left = *top = G_MAXDOUBLE;
  *right = *bottom = -G_MAXDOUBLE;
  for (guint i = 0; i < self->marks->len; i++)
    {
      const TptMapMark *mark = tpt_map_marks_get (self, i);

      *left = MIN (*left, mark->x);
      *top = MIN (*top, mark->y);
      *right = MAX (*right, mark->x);
      *bottom = MAX (*bottom, mark->y);
    }
  return self->marks->len > 0;
}
