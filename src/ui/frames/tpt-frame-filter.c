#include "config.h"

#include "tpt-frame-filter.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-certainty.h"
#include "tpt-frame-filter-words.h"
#include "tpt-search.h"

struct _TptFrameFilter {
  GtkWidget parent_instance;

  GtkToggleButton *undecided;
  GtkToggleButton *disagreeing;
  GtkToggleButton *marked;
  GtkCheckButton *every_frame;
  GtkDropDown *station;
  GtkDropDown *species;
  GtkDropDown *type;
  GtkDropDown *certainty;
  GtkDropDown *order;

  TptFrameQuery *query; /* (owned) */
  GStrv station_codes;  /* (owned): beside the titles of the drop-down, without its first */
  GStrv species_names;  /* (owned): the same */
  gboolean quiet;       /* the controls are being set by us */
};

G_DEFINE_FINAL_TYPE (TptFrameFilter, tpt_frame_filter, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* As the drop-down "type" lists them, after its first. */
static const char *const types[] = { "animal", "human", "vehicle", "blank", "unknown" };
static const double certainties[] = { TPT_CERTAINTY_SURE, TPT_CERTAINTY_PROBABLE };

static void
emit_changed (TptFrameFilter *self)
{
  if (!self->quiet)
    g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

/* One of @values by its place in a drop-down whose first choice is none. */
static void
set_one (GStrv *list, const char *const *values, guint n, guint selected)
{
  g_clear_pointer (list, g_strfreev);
  if (selected != 0 && selected <= n)
    *list = g_strdupv ((char *[]) { (char *) values[selected - 1], NULL });
}

static void
flag_cb (TptFrameFilter *self)
{
  self->query->undecided = gtk_toggle_button_get_active (self->undecided);
  self->query->disagreeing = gtk_toggle_button_get_active (self->disagreeing);
  self->query->marked = gtk_toggle_button_get_active (self->marked);
  self->query->every_frame = gtk_check_button_get_active (self->every_frame);
  emit_changed (self);
}

static void
station_cb (TptFrameFilter *self)
{
  if (self->quiet)
    return;
  set_one (&self->query->stations, (const char *const *) self->station_codes, g_strv_length (self->station_codes),
           gtk_drop_down_get_selected (self->station));
  emit_changed (self);
}

static void
species_cb (TptFrameFilter *self)
{
  if (self->quiet)
    return;
  set_one (&self->query->species, (const char *const *) self->species_names, g_strv_length (self->species_names),
           gtk_drop_down_get_selected (self->species));
  emit_changed (self);
}

static void
type_cb (TptFrameFilter *self)
{
  if (self->quiet)
    return;
  set_one (&self->query->types, types, G_N_ELEMENTS (types), gtk_drop_down_get_selected (self->type));
  emit_changed (self);
}

static void
certainty_cb (TptFrameFilter *self)
{
  guint selected = gtk_drop_down_get_selected (self->certainty);

  self->query->certainty_below =
    selected != 0 && selected <= G_N_ELEMENTS (certainties) ? certainties[selected - 1] : NAN;
  emit_changed (self);
}

static void
order_cb (TptFrameFilter *self)
{
  self->query->order = (TptFrameOrder) MIN (gtk_drop_down_get_selected (self->order), TPT_FRAMES_BLANK_FIRST);
  emit_changed (self);
}

static void
tpt_frame_filter_dispose (GObject *object)
{
  TPT_FRAME_FILTER (object)->quiet = TRUE;
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_FRAME_FILTER);

  G_OBJECT_CLASS (tpt_frame_filter_parent_class)->dispose (object);
}

static void
tpt_frame_filter_finalize (GObject *object)
{
  TptFrameFilter *self = TPT_FRAME_FILTER (object);

  tpt_frame_query_free (self->query);
  g_strfreev (self->station_codes);
  g_strfreev (self->species_names);

  G_OBJECT_CLASS (tpt_frame_filter_parent_class)->finalize (object);
}

static void
bind_all (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, undecided);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, disagreeing);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, marked);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, every_frame);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, station);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, species);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, type);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, certainty);
  gtk_widget_class_bind_template_child (widget_class, TptFrameFilter, order);
  gtk_widget_class_bind_template_callback (widget_class, flag_cb);
  gtk_widget_class_bind_template_callback (widget_class, station_cb);
  gtk_widget_class_bind_template_callback (widget_class, species_cb);
  gtk_widget_class_bind_template_callback (widget_class, type_cb);
  gtk_widget_class_bind_template_callback (widget_class, certainty_cb);
  gtk_widget_class_bind_template_callback (widget_class, order_cb);
}

static void
tpt_frame_filter_class_init (TptFrameFilterClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_frame_filter_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_frame_filter_finalize;
  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-frame-filter.ui");
  bind_all (widget_class);
}

static void
tpt_frame_filter_init (TptFrameFilter *self)
{
  static const char *const none[] = { NULL };

  self->query = tpt_frame_query_new ();
  self->quiet = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->quiet = FALSE;
  tpt_frame_filter_set_stations (self, none, none);
  tpt_frame_filter_set_species (self, none, none);
}

const TptFrameQuery *
tpt_frame_filter_get_query (TptFrameFilter *self)
{
  return self->query;
}

void
tpt_frame_filter_set_batch (TptFrameFilter *self, const char *batch)
{
  char *kept = g_strdup (batch);

  g_free (self->query->batch);
  self->query->batch = kept;
}

static guint
find_value (GStrv values, const char *wanted)
{
  for (guint i = 0; values[i] != NULL; i++)
    if (g_strcmp0 (values[i], wanted) == 0)
      return i + 1;
  return 0;
}

/* The place of @wanted in a drop-down whose first choice is none. Several have no place in it. */
static guint
find_place (GStrv values, GStrv wanted)
{
  if (wanted == NULL || wanted[0] == NULL)
    return 0;
  return wanted[1] != NULL ? GTK_INVALID_LIST_POSITION : find_value (values, wanted[0]);
}

/* Sets the choices unless they are the same already; what is chosen and gone
 * stays asked for until it is cleared, as the sentence says. */
static void
set_choices (TptFrameFilter *self, GtkDropDown *choice, const char *any, GStrv *kept, const char *const *values,
             const char *const *titles, GStrv wanted)
{
  g_autoptr (GtkStringList) list = NULL;

  if (*kept != NULL && g_strv_equal ((const char *const *) *kept, values))
    return;
  list = gtk_string_list_new ((const char *const[]) { any, NULL });
  gtk_string_list_splice (list, 1, 0, titles);
  g_strfreev (*kept);
  *kept = g_strdupv ((char **) values);
  self->quiet = TRUE;
  gtk_drop_down_set_model (choice, G_LIST_MODEL (list));
  tpt_search_anywhere (choice);
  gtk_drop_down_set_selected (choice, find_place (*kept, wanted));
  self->quiet = FALSE;
}

void
tpt_frame_filter_set_stations (TptFrameFilter *self, const char *const *codes, const char *const *titles)
{
  set_choices (self, self->station, _("Every station"), &self->station_codes, codes, titles, self->query->stations);
}

void
tpt_frame_filter_set_species (TptFrameFilter *self, const char *const *names, const char *const *titles)
{
  set_choices (self, self->species, _("Every species"), &self->species_names, names, titles, self->query->species);
}

static guint
count_names (GStrv names)
{
  return names != NULL ? g_strv_length (names) : 0;
}

/* (transfer full): as a drop-down says it; as it is when that does not have it. */
static char *
get_title (GtkDropDown *choice, GStrv values, const char *wanted)
{
  guint place = find_value (values, wanted);
  g_autoptr (GtkStringObject) item = place != 0 ? g_list_model_get_item (gtk_drop_down_get_model (choice), place) : NULL;

  return g_strdup (item != NULL ? gtk_string_object_get_string (item) : wanted);
}

/* (transfer full) (nullable): one by its title, two by theirs, @several for more. */
static char *
get_titles (GtkDropDown *choice, GStrv values, GStrv wanted, const char *several)
{
  guint n = count_names (wanted);
  g_autofree char *first = n > 0 ? get_title (choice, values, wanted[0]) : NULL;
  g_autofree char *second = n == 2 ? get_title (choice, values, wanted[1]) : NULL;

  if (n < 2)
    return g_steal_pointer (&first);
  if (n == 2) /* Translators: two stations, or two species. */
    return g_strdup_printf (_("%1$s and %2$s"), first, second);
  return g_strdup (several);
}

void
tpt_frame_filter_set_order (TptFrameFilter *self, TptFrameOrder order)
{
  self->query->order = order;
  self->quiet = TRUE;
  gtk_drop_down_set_selected (self->order, order);
  self->quiet = FALSE;
}

char *
tpt_frame_filter_describe (TptFrameFilter *self, TptZone *zone)
{
  guint n_stations = count_names (self->query->stations), n_species = count_names (self->query->species);
  g_autofree char *several_stations =
    g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u station", "%u stations", n_stations), n_stations);
  g_autofree char *several_species =
    g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u species", "one of %u species", n_species), n_species);
  g_autofree char *stations =
    get_titles (self->station, self->station_codes, self->query->stations, several_stations);
  g_autofree char *species =
    get_titles (self->species, self->species_names, self->query->species, several_species);

  return tpt_frame_filter_words (self->query, stations, species, zone);
}

void
tpt_frame_filter_clear (TptFrameFilter *self)
{
  tpt_frame_query_free (self->query);
  self->query = tpt_frame_query_new ();
  self->quiet = TRUE;
  gtk_toggle_button_set_active (self->undecided, FALSE);
  gtk_toggle_button_set_active (self->disagreeing, FALSE);
  gtk_toggle_button_set_active (self->marked, FALSE);
  gtk_check_button_set_active (self->every_frame, FALSE);
  gtk_drop_down_set_selected (self->station, 0);
  gtk_drop_down_set_selected (self->species, 0);
  gtk_drop_down_set_selected (self->type, 0);
  gtk_drop_down_set_selected (self->certainty, 0);
  gtk_drop_down_set_selected (self->order, 0);
  self->quiet = FALSE;
}

static guint
find_type (GStrv wanted)
{
  for (guint i = 0; wanted != NULL && wanted[0] != NULL && wanted[1] == NULL && i < G_N_ELEMENTS (types); i++)
    if (g_str_equal (types[i], wanted[0]))
      return i + 1;
  return 0;
}

void
tpt_frame_filter_set_query (TptFrameFilter *self, const TptFrameQuery *query)
{
  g_autoptr (TptFrameQuery) kept = tpt_frame_query_copy (query);

  tpt_frame_filter_clear (self);
  self->query->stations = g_steal_pointer (&kept->stations);
  self->query->species = g_steal_pointer (&kept->species);
  self->query->types = g_steal_pointer (&kept->types);
  self->query->range = kept->range;
  self->query->hour_from = kept->hour_from;
  self->query->hour_to = kept->hour_to;
  self->quiet = TRUE;
  gtk_drop_down_set_selected (self->station, find_place (self->station_codes, self->query->stations));
  gtk_drop_down_set_selected (self->species, find_place (self->species_names, self->query->species));
  gtk_drop_down_set_selected (self->type, find_type (self->query->types));
  self->quiet = FALSE;
}
