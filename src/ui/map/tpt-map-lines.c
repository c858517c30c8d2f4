#include "tpt-map-lines.h"

#include <math.h>

#include "tpt-map-frame.h"
#include "tpt-map-mark.h"
#include "tpt-map-path.h"
#include "tpt-style.h"

/* Share of the layer's size that is drawn beyond each edge, so that a short
 * pan moves what was drawn before. */
#define PADDING 0.25
#define LABEL_SCALE 0.9
#define LABEL_GAP 2
#define HALO_WIDTH 3

/* Of a station's name, as a guess: it is set by another layer. */
#define LETTER_WIDTH 8.0

/**
 * LineStyle:
 * @width: pixels; of a river at a zoom level of 15
 * @dashes: (nullable): pairs, up to a zero
 * @order: lower is drawn first
 */
typedef struct {
  const char *kind;
  TptColorRole role;
  TptColorRole ink;
  double width;
  double dashes[5];
  int order;
  gboolean filled;
} LineStyle;

static const LineStyle styles[] = {
  { "water", TPT_COLOR_WATER, TPT_COLOR_WATER_INK, 1.2, { 0 }, 0, TRUE },
  { "river", TPT_COLOR_WATER, TPT_COLOR_WATER_INK, 5, { 0 }, 1, FALSE },
  { "boundary", TPT_COLOR_BOUNDARY, TPT_COLOR_BOUNDARY, 1.6, { 10, 3, 2, 3 }, 2, FALSE },
  { "road", TPT_COLOR_ROAD, TPT_COLOR_QUIET, 2.6, { 0 }, 3, FALSE },
  { "trail", TPT_COLOR_TRAIL, TPT_COLOR_QUIET, 1.8, { 6, 4 }, 4, FALSE },
  { "place", TPT_COLOR_QUIET, TPT_COLOR_QUIET, 1.2, { 0 }, 5, FALSE },
  { "other", TPT_COLOR_QUIET, TPT_COLOR_QUIET, 1.2, { 2, 3 }, 5, FALSE },
};

/**
 * Line: a track made ready to be drawn.
 * @paths: (owned) (element-type TptMapPath)
 */
typedef struct {
  const LineStyle *style;
  char *name; /* (owned) (nullable) */
  gboolean area;
  GPtrArray *paths;
} Line;

/* Where a name goes, and which way it runs. */
typedef struct {
  TptMapPoint at;
  double angle;
} Spot;

/**
 * Obstacle: a mark with its name to the right.
 * @x: in the square of the world
 * @y: the same
 * @radius: pixels
 * @width: of the name, pixels
 */
typedef struct {
  double x;
  double y;
  double radius;
  double width;
} Obstacle;

/**
 * Drawn: what was drawn last, and for what.
 * @frame: with the padding
 */
typedef struct {
  GskRenderNode *node; /* (owned) (nullable) */
  TptMapFrame frame;
  TptPalette palette;
} Drawn;

struct _TptMapLines {
  ShumateLayer parent_instance;

  GPtrArray *lines;  /* (owned) (element-type Line) */
  GArray *obstacles; /* (owned) (element-type Obstacle) */
  Drawn drawn;
};

G_DEFINE_FINAL_TYPE (TptMapLines, tpt_map_lines, SHUMATE_TYPE_LAYER)

static void
free_line (gpointer data)
{
  Line *line = data;

  g_free (line->name);
  g_ptr_array_unref (line->paths);
  g_free (line);
}

static const LineStyle *
find_style (const char *kind)
{
  for (guint i = 0; i < G_N_ELEMENTS (styles); i++)
    if (g_strcmp0 (styles[i].kind, kind) == 0)
      return &styles[i];
  return &styles[G_N_ELEMENTS (styles) - 1];
}

static Line *
make_line (const TptTrack *track)
{
  Line *line = g_new0 (Line, 1);
  const double *degrees = (const double *) track->points->data;

  line->style = find_style (track->kind);
  line->name = g_strdup (track->name);
  line->area = track->area;
  line->paths = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_map_path_free);
  for (guint i = 0; i < track->lengths->len; i++)
    {
      guint n = g_array_index (track->lengths, guint, i);

      g_ptr_array_add (line->paths, tpt_map_path_new (degrees, n));
      degrees += 2 * n;
    }
  return line;
}

static int
compare_lines (gconstpointer a, gconstpointer b)
{
  const Line *left = *(Line *const *) a, *right = *(Line *const *) b;

  return left->style->order - right->style->order;
}

static double
get_width (const LineStyle *style, const TptMapFrame *frame)
{
  double zoom = log2 (frame->world / 256);

  if (style->order != 1)
    return style->width;
  return CLAMP (style->width + 1.2 * (zoom - 15), 2, 12);
}

static void
set_dashes (cairo_t *cr, const LineStyle *style)
{
  int n = 0;

  while (style->dashes[n] > 0)
    n++;
  cairo_set_dash (cr, style->dashes, n, 0);
  cairo_set_line_cap (cr, n > 0 ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
}

static void
draw_line (const Line *line, cairo_t *cr, const TptMapFrame *frame, TptPalette palette)
{
  cairo_new_path (cr);
  for (guint i = 0; i < line->paths->len; i++)
    if (tpt_map_path_trace (g_ptr_array_index (line->paths, i), cr, frame) && line->area)
      cairo_close_path (cr);

  tpt_palette_set (palette, cr, line->style->role, 1);
  if (line->area && line->style->filled)
    {
      cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
      cairo_fill_preserve (cr);
    }
  set_dashes (cr, line->style);
  cairo_set_line_width (cr, get_width (line->style, frame));
  cairo_stroke (cr);
}

/* Sets @layout around the origin of @cr, with a halo of the ground's colour. */
static void
write_name (cairo_t *cr, PangoLayout *layout, TptColorRole ink, TptPalette palette)
{
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_width (cr, HALO_WIDTH);
  tpt_palette_set (palette, cr, TPT_COLOR_GROUND, 0.85);
  cairo_move_to (cr, 0, 0);
  pango_cairo_layout_path (cr, layout);
  cairo_stroke (cr);
  tpt_palette_set (palette, cr, ink, 1);
  cairo_move_to (cr, 0, 0);
  pango_cairo_show_layout (cr, layout);
}

/* In the middle of an area, when it is wide enough to hold the name. */
static gboolean
find_middle (TptMapPath *path, const TptMapFrame *frame, double width, TptMapPoint *middle)
{
  TptMapPoint least, most;

  tpt_map_path_get_box (path, &least, &most);
  if ((most.x - least.x) * frame->world < width)
    return FALSE;
  tpt_map_frame_place (frame, (least.x + most.x) / 2, (least.y + most.y) / 2, &middle->x, &middle->y);
  return middle->x > 0 && middle->x < frame->width && middle->y > 0 && middle->y < frame->height;
}

static gboolean
is_covered (const Obstacle *obstacle, const TptMapFrame *frame, double x, double y)
{
  double px, py;

  tpt_map_frame_place (frame, obstacle->x, obstacle->y, &px, &py);
  return x > px - obstacle->radius && x < px + obstacle->radius + obstacle->width && fabs (y - py) < obstacle->radius;
}

/* Points along the name are far enough from every mark. */
static gboolean
is_clear (TptMapLines *self, const TptMapFrame *frame, const Spot *spot, double width)
{
  for (guint i = 0; i < self->obstacles->len; i++)
    for (int step = -2; step <= 2; step++)
      {
        double along = step * width / 4;

        if (is_covered (&g_array_index (self->obstacles, Obstacle, i), frame, spot->at.x + along * cos (spot->angle),
                        spot->at.y + along * sin (spot->angle)))
          return FALSE;
      }
  return TRUE;
}

/* Near the middle of the stretch if nothing is in the way there. */
static gboolean
find_spot (TptMapLines *self, const Line *line, TptMapPath *path, const TptMapFrame *frame, double width, Spot *spot)
{
  static const double shares[] = { 0.5, 0.38, 0.62, 0.26, 0.74, 0.15, 0.85 };

  spot->angle = 0;
  if (line->area && line->style->filled)
    return find_middle (path, frame, width, &spot->at) && is_clear (self, frame, spot, width);
  for (guint i = 0; i < G_N_ELEMENTS (shares); i++)
    if (tpt_map_path_find_stretch (path, frame, width, shares[i], &spot->at, &spot->angle) &&
        is_clear (self, frame, spot, width))
      return TRUE;
  return FALSE;
}

/* The next names keep clear of this one too. */
static void
add_obstacle (TptMapLines *self, const TptMapFrame *frame, const Spot *spot, double width)
{
  for (int step = -1; step <= 1; step++)
    {
      double along = step * width / 3;
      Obstacle obstacle = {
        .x = (spot->at.x + along * cos (spot->angle) + frame->left) / frame->world,
        .y = (spot->at.y + along * sin (spot->angle) + frame->top) / frame->world,
        .radius = width / 6 + 8,
      };

      g_array_append_val (self->obstacles, obstacle);
    }
}

static void
draw_name (TptMapLines *self, const Line *line, cairo_t *cr, const TptMapFrame *frame, PangoLayout *layout)
{
  gboolean inside = line->area && line->style->filled;
  int width, height;

  pango_layout_set_text (layout, line->name, -1);
  pango_layout_get_pixel_size (layout, &width, &height);
  for (guint i = 0; i < line->paths->len; i++)
    {
      double lift = get_width (line->style, frame) / 2 + LABEL_GAP + height;
      Spot spot;

      if (!find_spot (self, line, g_ptr_array_index (line->paths, i), frame, width, &spot))
        continue;
      cairo_save (cr);
      cairo_translate (cr, spot.at.x, spot.at.y);
      cairo_rotate (cr, spot.angle);
      cairo_translate (cr, -width / 2.0, inside ? -height / 2.0 : -lift);
      write_name (cr, layout, line->style->ink, self->drawn.palette);
      cairo_restore (cr);
      add_obstacle (self, frame, &spot, width);
      return;
    }
}

static PangoLayout *
make_layout (GtkWidget *widget)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, NULL);
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_attr_list_insert (attributes, pango_attr_scale_new (LABEL_SCALE));
  pango_attr_list_insert (attributes, pango_attr_style_new (PANGO_STYLE_ITALIC));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  return layout;
}

/* Lines lie in the padded frame; names only in the part that is seen. */
static void
draw_all (TptMapLines *self, cairo_t *cr, const TptMapFrame *seen)
{
  g_autoptr (PangoLayout) layout = make_layout (GTK_WIDGET (self));
  const Drawn *drawn = &self->drawn;
  guint n_marks = self->obstacles->len;

  for (guint i = 0; i < self->lines->len; i++)
    draw_line (g_ptr_array_index (self->lines, i), cr, &drawn->frame, drawn->palette);
  cairo_translate (cr, seen->left - drawn->frame.left, seen->top - drawn->frame.top);
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = g_ptr_array_index (self->lines, i);

      if (line->name != NULL && *line->name != '\0')
        draw_name (self, line, cr, seen, layout);
    }
  g_array_set_size (self->obstacles, n_marks);
}

static TptMapFrame
pad_frame (const TptMapFrame *seen)
{
  double pad_x = ceil (seen->width * PADDING), pad_y = ceil (seen->height * PADDING);

  return (TptMapFrame) {
    .world = seen->world,
    .left = seen->left - pad_x,
    .top = seen->top - pad_y,
    .width = seen->width + 2 * pad_x,
    .height = seen->height + 2 * pad_y,
  };
}

static void
draw_anew (TptMapLines *self, const TptMapFrame *seen)
{
  Drawn *drawn = &self->drawn;
  GskRenderNode *node;
  cairo_t *cr;

  drawn->frame = pad_frame (seen);
  drawn->palette = tpt_style_get_palette ();
  node = gsk_cairo_node_new (&GRAPHENE_RECT_INIT (0, 0, drawn->frame.width, drawn->frame.height));
  cr = gsk_cairo_node_get_draw_context (node);
  draw_all (self, cr, seen);
  cairo_destroy (cr);
  g_clear_pointer (&drawn->node, gsk_render_node_unref);
  drawn->node = node;
}

static gboolean
still_fits (const Drawn *drawn, const TptMapFrame *seen)
{
  return drawn->node != NULL && drawn->palette == tpt_style_get_palette () && drawn->frame.world == seen->world &&
         seen->left >= drawn->frame.left && seen->top >= drawn->frame.top &&
         seen->left + seen->width <= drawn->frame.left + drawn->frame.width &&
         seen->top + seen->height <= drawn->frame.top + drawn->frame.height;
}

static void
tpt_map_lines_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptMapLines *self = TPT_MAP_LINES (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  TptMapFrame seen;

  if (self->lines->len == 0 || width <= 0 || height <= 0)
    return;

  seen = tpt_map_frame_of (shumate_layer_get_viewport (SHUMATE_LAYER (self)), width, height);
  if (!still_fits (&self->drawn, &seen))
    draw_anew (self, &seen);

  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (self->drawn.frame.left - seen.left, self->drawn.frame.top - seen.top));
  gtk_snapshot_append_node (snapshot, self->drawn.node);
  gtk_snapshot_pop (snapshot);
}

static void
forget_drawn (TptMapLines *self)
{
  g_clear_pointer (&self->drawn.node, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
tpt_map_lines_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  forget_drawn (TPT_MAP_LINES (widget));
  GTK_WIDGET_CLASS (tpt_map_lines_parent_class)->system_setting_changed (widget, setting);
}

static void
tpt_map_lines_constructed (GObject *object)
{
  G_OBJECT_CLASS (tpt_map_lines_parent_class)->constructed (object);
  tpt_map_layer_follow (SHUMATE_LAYER (object));
}

static void
tpt_map_lines_finalize (GObject *object)
{
  TptMapLines *self = TPT_MAP_LINES (object);

  g_clear_pointer (&self->drawn.node, gsk_render_node_unref);
  g_ptr_array_unref (self->lines);
  g_array_unref (self->obstacles);
  G_OBJECT_CLASS (tpt_map_lines_parent_class)->finalize (object);
}

static void
tpt_map_lines_class_init (TptMapLinesClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->constructed = tpt_map_lines_constructed;
  object_class->finalize = tpt_map_lines_finalize;
  widget_class->snapshot = tpt_map_lines_snapshot;
  widget_class->system_setting_changed = tpt_map_lines_system_setting_changed;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
tpt_map_lines_init (TptMapLines *self)
{
  self->lines = g_ptr_array_new_with_free_func (free_line);
  self->obstacles = g_array_new (FALSE, FALSE, sizeof (Obstacle));
}

ShumateLayer *
tpt_map_lines_new (ShumateViewport *viewport)
{
  return g_object_new (TPT_TYPE_MAP_LINES, "viewport", viewport, NULL);
}

void
tpt_map_lines_set_tracks (TptMapLines *self, GPtrArray *tracks)
{
  g_ptr_array_set_size (self->lines, 0);
  for (guint i = 0; tracks != NULL && i < tracks->len; i++)
    g_ptr_array_add (self->lines, make_line (g_ptr_array_index (tracks, i)));
  g_ptr_array_sort (self->lines, compare_lines);
  forget_drawn (self);
}

void
tpt_map_lines_set_marks (TptMapLines *self, GPtrArray *marks)
{
  g_array_set_size (self->obstacles, 0);
  for (guint i = 0; marks != NULL && i < marks->len; i++)
    {
      const TptMapMark *mark = g_ptr_array_index (marks, i);
      Obstacle obstacle = { mark->x, mark->y, mark->diameter / 2 + 6, g_utf8_strlen (mark->title, -1) * LETTER_WIDTH };

      g_array_append_val (self->obstacles, obstacle);
    }
  forget_drawn (self);
}

guint
tpt_map_lines_get_n_tracks (TptMapLines *self)
{
  return self->lines->len;
}

gboolean
tpt_map_lines_get_box (TptMapLines *self, double *left, double *top, double *right, double *bottom)
{
  gboolean any = FALSE;

  *left = *top = G_MAXDOUBLE;
  *right = *bottom = -G_MAXDOUBLE;
  for (guint i = 0; i < self->lines->len; i++)
    {
      const Line *line = g_ptr_array_index (self->lines, i);

      for (guint j = 0; j < line->paths->len; j++)
        {
          TptMapPoint least, most;

          tpt_map_path_get_box (g_ptr_array_index (line->paths, j), &least, &most);
          *left = MIN (*left, least.x);
          *top = MIN (*top, least.y);
          *right = MAX (*right, most.x);
          *bottom = MAX (*bottom, most.y);
          any = TRUE;
        }
    }
  return any;
}
