#include "config.h"

#include "tpt-due-row.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-due-list.h"
#include "tpt-style.h"
#include "tpt-symbol-view.h"

#define MARGIN 12
#define GAP 10
#define PAD 7

struct _TptDueRow {
  GtkWidget parent_instance;

  TptStationItem *item; /* (owned) (nullable) */
  TptDueScale *scale;   /* (owned) (nullable) */
  char *said;           /* (owned) (nullable): what a screen reader was told last */

  TptSymbolView *symbol;
  GtkLabel *title;
  GtkLabel *description;
  GtkLabel *nights;
};

G_DEFINE_FINAL_TYPE (TptDueRow, tpt_due_row, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_ITEM,
  PROP_SCALE,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

/* (transfer full): what waiting until the round costs; empty when it is nothing. */
static char *
describe_nights (TptForecast *forecast)
{
  if (isnan (forecast->lost_nights) || forecast->lost_nights < 0.05)
    return g_strdup ("");
  /* Translators: trap nights likely to be lost before the next round. */
  return g_strdup_printf (_("%.1f nights"), forecast->lost_nights);
}

/* (transfer full) (nullable): the same in a whole sentence. */
static char *
explain_nights (TptForecast *forecast)
{
  if (isnan (forecast->lost_nights) || forecast->lost_nights < 0.05)
    return NULL;
  if (forecast->state == TPT_STATE_DOWN)
    return g_strdup_printf (_("Loses %.1f trap nights before the round"), forecast->lost_nights);
  return g_strdup_printf (_("May lose %.1f trap nights before the round"), forecast->lost_nights);
}

/* (transfer full): the state before what gives out; where nothing can be told,
 * the reason alone. */
static char *
describe_item (TptDueRow *self)
{
  TptSymbolState state = tpt_station_item_get_forecast (self->item)->state;
  g_autofree char *words =
    tpt_station_item_describe (self->item, tpt_due_scale_get_zone (self->scale), tpt_due_scale_get_on (self->scale));

  if (state == TPT_STATE_UNKNOWN)
    return g_steal_pointer (&words);
  return g_strdup_printf ("%s · %s", tpt_symbol_state_name (state), words);
}

/* (transfer full) */
static char *
explain (const char *description, const char *nights)
{
  return nights != NULL ? g_strdup_printf ("%s\n%s", description, nights) : g_strdup (description);
}

/* A list item has no name of its own: screen readers get it from the row.
 * %FALSE when nothing new is to be said, as in most rows while the round is
 * being moved. */
static gboolean
name_list_item (TptDueRow *self, const char *whole)
{
  GtkWidget *list_item = gtk_widget_get_parent (GTK_WIDGET (self));
  TptSymbol symbol = tpt_station_item_get_symbol (self->item);
  g_autofree char *state = tpt_symbol_describe (&symbol);
  g_autofree char *name = g_strdup_printf ("%s: %s\n%s", tpt_station_item_get_title (self->item), whole, state);

  if (g_strcmp0 (name, self->said) == 0)
    return FALSE;
  g_free (self->said);
  self->said = g_steal_pointer (&name);
  if (list_item != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (list_item), GTK_ACCESSIBLE_PROPERTY_LABEL, self->said, -1);
  return TRUE;
}

static void
show_item (TptDueRow *self)
{
  TptForecast *forecast = tpt_station_item_get_forecast (self->item);
  g_autofree char *nights = describe_nights (forecast);
  g_autofree char *description = describe_item (self);
  g_autofree char *sentence = explain_nights (forecast);
  g_autofree char *whole = explain (description, sentence);

  tpt_symbol_view_set_symbol (self->symbol, tpt_station_item_get_symbol (self->item));
  gtk_label_set_label (self->title, tpt_station_item_get_title (self->item));
  gtk_label_set_label (self->description, description);
  gtk_label_set_label (self->nights, nights);
  if (name_list_item (self, whole))
    gtk_widget_set_tooltip_text (GTK_WIDGET (self), whole);
}

static void
refresh (TptDueRow *self)
{
  if (self->item != NULL && self->scale != NULL && tpt_due_scale_is_set (self->scale))
    show_item (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static int
measure_height (GtkWidget *child)
{
  int natural;

  gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

static int
measure_width (GtkWidget *child)
{
  int natural;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

static void
tpt_due_row_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                     int *minimum_baseline, int *natural_baseline)
{
  TptDueRow *self = TPT_DUE_ROW (widget);
  int text = measure_height (GTK_WIDGET (self->title)) + measure_height (GTK_WIDGET (self->description));

  /* Every child has to be measured before it is allocated. */
  measure_height (GTK_WIDGET (self->symbol));
  measure_height (GTK_WIDGET (self->nights));
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = *natural = 280;
  else
    *minimum = *natural = text + 2 + 2 * PAD;
}

static void
place (GtkWidget *child, int x, int y, int width, int height)
{
  int least;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  gtk_widget_size_allocate (child, &(GtkAllocation) { x, y, MAX (width, least), height }, -1);
}

static double
find_axis_left (TptDueRow *self, int width)
{
  return self->scale != NULL && tpt_due_scale_is_set (self->scale) ? tpt_due_scale_place (self->scale, width).left : width / 2.0;
}

/* The name keeps left of the axis; below it the words may use the whole width. */
static void
tpt_due_row_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TptDueRow *self = TPT_DUE_ROW (widget);
  int symbol = measure_width (GTK_WIDGET (self->symbol));
  int left = MARGIN + symbol + GAP;
  int title_height = measure_height (GTK_WIDGET (self->title));
  int words_height = measure_height (GTK_WIDGET (self->description));
  int nights_width = measure_width (GTK_WIDGET (self->nights));
  int words_top = PAD + title_height + 2;

  place (GTK_WIDGET (self->symbol), MARGIN, (height - symbol) / 2, symbol, symbol);
  place (GTK_WIDGET (self->title), left, PAD, (int) find_axis_left (self, width) - left - 8, title_height);
  place (GTK_WIDGET (self->nights), width - MARGIN - nights_width, words_top, nights_width, words_height);
  place (GTK_WIDGET (self->description), left, words_top, width - MARGIN - nights_width - 8 - left, words_height);
}

static void
draw_time (TptDueRow *self, cairo_t *cr, double width, double height)
{
  TptTimeAxis axis = tpt_due_scale_place (self->scale, width);
  TptFigureStyle style = tpt_style_get_figure_style ();
  double y = PAD + measure_height (GTK_WIDGET (self->title)) / 2.0;

  tpt_time_axis_draw_grid (&axis, cr, 0, height, &style);
  tpt_interval_bar_draw (cr, &axis, &tpt_station_item_get_forecast (self->item)->interval, y, 4, style.palette);
}

static void
tpt_due_row_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptDueRow *self = TPT_DUE_ROW (widget);
  double width = gtk_widget_get_width (widget);
  double height = gtk_widget_get_height (widget);
  cairo_t *cr;

  if (self->item != NULL && self->scale != NULL && tpt_due_scale_is_set (self->scale))
    {
      cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
      draw_time (self, cr, width, height);
      cairo_destroy (cr);
    }
  GTK_WIDGET_CLASS (tpt_due_row_parent_class)->snapshot (widget, snapshot);
}

static void
tpt_due_row_root (GtkWidget *widget)
{
  GtkWidget *list;

  GTK_WIDGET_CLASS (tpt_due_row_parent_class)->root (widget);

  list = gtk_widget_get_ancestor (widget, TPT_TYPE_DUE_LIST);
  if (list != NULL)
    tpt_due_row_set_scale (TPT_DUE_ROW (widget), tpt_due_list_get_scale (TPT_DUE_LIST (list)));
}

static void
tpt_due_row_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TptDueRow *self = TPT_DUE_ROW (object);

  switch (id)
    {
    case PROP_ITEM:
      g_value_set_object (value, self->item);
      break;
    case PROP_SCALE:
      g_value_set_object (value, self->scale);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_due_row_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  TptDueRow *self = TPT_DUE_ROW (object);

  switch (id)
    {
    case PROP_ITEM:
      tpt_due_row_set_item (self, g_value_get_object (value));
      break;
    case PROP_SCALE:
      tpt_due_row_set_scale (self, g_value_get_object (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_due_row_dispose (GObject *object)
{
  TptDueRow *self = TPT_DUE_ROW (object);

  tpt_due_row_set_scale (self, NULL);
  g_clear_object (&self->item);
  g_clear_pointer (&self->said, g_free);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_DUE_ROW);

  G_OBJECT_CLASS (tpt_due_row_parent_class)->dispose (object);
}

static void
tpt_due_row_class_init (TptDueRowClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS;

  object_class->dispose = tpt_due_row_dispose;
  object_class->get_property = tpt_due_row_get_property;
  object_class->set_property = tpt_due_row_set_property;
  widget_class->measure = tpt_due_row_measure;
  widget_class->size_allocate = tpt_due_row_size_allocate;
  widget_class->snapshot = tpt_due_row_snapshot;
  widget_class->root = tpt_due_row_root;

  properties[PROP_ITEM] = g_param_spec_object ("item", NULL, NULL, TPT_TYPE_STATION_ITEM, flags);
  properties[PROP_SCALE] = g_param_spec_object ("scale", NULL, NULL, TPT_TYPE_DUE_SCALE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  g_type_ensure (TPT_TYPE_SYMBOL_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-due-row.ui");
  gtk_widget_class_bind_template_child (widget_class, TptDueRow, symbol);
  gtk_widget_class_bind_template_child (widget_class, TptDueRow, title);
  gtk_widget_class_bind_template_child (widget_class, TptDueRow, description);
  gtk_widget_class_bind_template_child (widget_class, TptDueRow, nights);
}

static void
tpt_due_row_init (TptDueRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
}

void
tpt_due_row_set_item (TptDueRow *self, TptStationItem *item)
{
  if (g_set_object (&self->item, item))
    {
      refresh (self);
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_ITEM]);
    }
}

void
tpt_due_row_set_scale (TptDueRow *self, TptDueScale *scale)
{
  if (self->scale == scale)
    return;
  if (self->scale != NULL)
    g_signal_handlers_disconnect_by_func (self->scale, refresh, self);
  g_set_object (&self->scale, scale);
  if (scale != NULL)
    {
      g_signal_connect_swapped (scale, "changed", G_CALLBACK (refresh), self);
      refresh (self);
    }
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_SCALE]);
}
