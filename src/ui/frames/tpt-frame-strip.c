#include "config.h"

#include "tpt-frame-strip.h"

#include "tpt-key-button.h"
#include "tpt-strip-cell.h"

#define MOST_CELLS 24

struct _TptFrameStrip {
  GtkWidget parent_instance;

  GtkBox *cells;
  GtkViewport *port;
  TptKeyButton *split;
  TptKeyButton *join;

  TptStripCell *cell[MOST_CELLS]; /* (unowned): as many as were ever needed */
  gboolean editable;
  gboolean splittable;
};

G_DEFINE_FINAL_TYPE (TptFrameStrip, tpt_frame_strip, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHOSEN,
  SIGNAL_SPLIT,
  SIGNAL_JOIN,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
cell_cb (TptFrameStrip *self, TptStripCell *cell)
{
  g_signal_emit (self, signals[SIGNAL_CHOSEN], 0, tpt_strip_cell_get_place (cell));
}

static void
split_cb (TptFrameStrip *self)
{
  g_signal_emit (self, signals[SIGNAL_SPLIT], 0);
}

static void
join_cb (TptFrameStrip *self)
{
  g_signal_emit (self, signals[SIGNAL_JOIN], 0);
}

static TptStripCell *
get_cell (TptFrameStrip *self, guint i)
{
  if (self->cell[i] != NULL)
    return self->cell[i];
  self->cell[i] = tpt_strip_cell_new ();
  g_signal_connect_swapped (self->cell[i], "clicked", G_CALLBACK (cell_cb), self);
  gtk_box_append (self->cells, GTK_WIDGET (self->cell[i]));
  return self->cell[i];
}

/* The first frame of the stretch that shows, of @n frames. */
static guint
find_first (guint n, guint chosen)
{
  if (n <= MOST_CELLS || chosen < MOST_CELLS / 2)
    return 0;
  return MIN (chosen - MOST_CELLS / 2, n - MOST_CELLS);
}

/* So far to the right that the chosen cell is in sight. */
static void
scroll_to (TptFrameStrip *self, TptStripCell *cell)
{
  GtkAdjustment *along = gtk_scrollable_get_hadjustment (GTK_SCROLLABLE (self->port));
  graphene_rect_t place;

  if (gtk_widget_compute_bounds (GTK_WIDGET (cell), GTK_WIDGET (self->cells), &place))
    gtk_adjustment_clamp_page (along, place.origin.x, (double) place.origin.x + place.size.width);
}

static void
show_limits (TptFrameStrip *self)
{
  gtk_widget_set_sensitive (GTK_WIDGET (self->split), self->editable && self->splittable);
  gtk_widget_set_sensitive (GTK_WIDGET (self->join), self->editable);
}

static void
tpt_frame_strip_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_FRAME_STRIP);

  G_OBJECT_CLASS (tpt_frame_strip_parent_class)->dispose (object);
}

static void
tpt_frame_strip_class_init (TptFrameStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_frame_strip_dispose;
  signals[SIGNAL_CHOSEN] =
    g_signal_new ("chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[SIGNAL_SPLIT] = g_signal_new ("split", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_JOIN] = g_signal_new ("join", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (TPT_TYPE_KEY_BUTTON);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-frame-strip.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptFrameStrip, cells);
  gtk_widget_class_bind_template_child (widget_class, TptFrameStrip, port);
  gtk_widget_class_bind_template_child (widget_class, TptFrameStrip, split);
  gtk_widget_class_bind_template_child (widget_class, TptFrameStrip, join);
  gtk_widget_class_bind_template_callback (widget_class, split_cb);
  gtk_widget_class_bind_template_callback (widget_class, join_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_frame_strip_init (TptFrameStrip *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  show_limits (self);
}

void
tpt_frame_strip_show (TptFrameStrip *self, GPtrArray *rows, guint chosen, double lift)
{
  guint n = rows != NULL ? rows->len : 0;
  guint first = find_first (n, chosen);

  for (guint i = 0; i < MOST_CELLS; i++)
    {
      gboolean there = first + i < n;

      if (there)
        tpt_strip_cell_show (get_cell (self, i), rows->pdata[first + i], (int) (first + i), (int) n, first + i == chosen, lift);
      else if (self->cell[i] != NULL)
        tpt_strip_cell_clear (self->cell[i]);
      if (self->cell[i] != NULL)
        gtk_widget_set_visible (GTK_WIDGET (self->cell[i]), there);
    }
  self->splittable = n > 1 && chosen > 0;
  show_limits (self);
  if (n > 0 && self->cell[chosen - first] != NULL)
    scroll_to (self, self->cell[chosen - first]);
}

void
tpt_frame_strip_set_editable (TptFrameStrip *self, gboolean editable)
{
  self->editable = editable;
  show_limits (self);
}
