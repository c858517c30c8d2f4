#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-log-private.h"
#include "tpt-words.h"

struct _TptLogItem {
  GObject parent_instance;

  TptInstant at;
  char *text; /* (owned) */
  char *unit; /* (owned) (nullable) */
  TptRecord *entry; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptLogItem, tpt_log_item, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_TEXT,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

static void
tpt_log_item_finalize (GObject *object)
{
  TptLogItem *self = TPT_LOG_ITEM (object);

  g_free (self->text);
  g_free (self->unit);
  g_clear_object (&self->entry);

  G_OBJECT_CLASS (tpt_log_item_parent_class)->finalize (object);
}

static void
tpt_log_item_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_TEXT)
    g_value_set_string (value, TPT_LOG_ITEM (object)->text);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
tpt_log_item_class_init (TptLogItemClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->finalize = tpt_log_item_finalize;
  object_class->get_property = tpt_log_item_get_property;

  properties[PROP_TEXT] = g_param_spec_string ("text", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
tpt_log_item_init (TptLogItem *self)
{
}

TptInstant
tpt_log_item_get_at (TptLogItem *self)
{
  return self->at;
}

const char *
tpt_log_item_get_text (TptLogItem *self)
{
  return self->text;
}

const char *
tpt_log_item_get_unit (TptLogItem *self)
{
  return self->unit;
}

TptRecord *
tpt_log_item_get_entry (TptLogItem *self)
{
  return self->entry;
}

static void
append_item (GListStore *log, TptInstant at, const char *unit, const char *text, TptRecord *entry)
{
  g_autoptr (TptLogItem) item = g_object_new (TPT_TYPE_LOG_ITEM, NULL);

  item->at = at;
  item->unit = g_strdup (unit);
  item->text = g_strdup (text);
  g_set_object (&item->entry, entry);
  g_list_store_append (log, item);
}

void
tpt_log_add (GListStore *log, TptInstant at, const char *unit, const char *text)
{
  append_item (log, at, unit, text, NULL);
}

void
tpt_log_add_entry (GListStore *log, TptRecord *entry)
{
  g_autofree char *text = tpt_log_word_entry (entry);

  append_item (log, tpt_record_get_instant (entry, "at"), tpt_record_get_text (entry, "unit"), text, entry);
}

static int
compare_newest_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  const TptLogItem *x = a, *y = b;

  return (x->at < y->at) - (x->at > y->at);
}

void
tpt_log_sort (GListStore *log)
{
  g_list_store_sort (log, compare_newest_cb, NULL);
}

const char *
tpt_log_unit_label (TptRecord *unit)
{
  const char *label = tpt_record_get_text (unit, "label");

  return label != NULL ? label : tpt_record_get_code (unit);
}

void
tpt_log_add_named_entry (GListStore *log, TptRecord *entry, const char *name)
{
  g_autofree char *words = tpt_log_word_entry (entry);
  g_autofree char *text = g_strdup_printf ("%s: %s", name, words);

  append_item (log, tpt_record_get_instant (entry, "at"), tpt_record_get_text (entry, "unit"), text, entry);
}

char *
tpt_log_name_unit (TptRecord *unit)
{
  const char *label = tpt_record_get_text (unit, "label");

  if (label == NULL)
    return g_strdup (tpt_record_get_code (unit));
  return g_strdup_printf ("%s (%s)", label, tpt_record_get_code (unit));
}

void
tpt_log_add_deployment (GListStore *log, TptRecord *deployment)
{
  TptInstant end = tpt_record_get_instant (deployment, "end");

  tpt_log_add (log, tpt_record_get_instant (deployment, "start"), NULL, _("Set out"));
  if (end != TPT_NO_INSTANT)
    tpt_log_add (log, end, NULL, _("Brought in"));
}

/* A unit that came and went with its rig needs no line in the station's log;
 * one that was changed in between does. */
void
tpt_log_add_fitting (GListStore *log, TptRecord *fitting, TptRecord *deployment, const char *name)
{
  const char *unit = tpt_record_get_text (fitting, "unit");
  TptInstant from = tpt_record_get_instant (fitting, "from"), to = tpt_record_get_instant (fitting, "to");

  if (from != tpt_record_get_instant (deployment, "start"))
    {
      g_autofree char *text = g_strdup_printf (_("%s fitted"), name);
      tpt_log_add (log, from, unit, text);
    }
  if (to != TPT_NO_INSTANT && to != tpt_record_get_instant (deployment, "end"))
    {
      g_autofree char *text = g_strdup_printf (_("%s taken out"), name);
      tpt_log_add (log, to, unit, text);
    }
}

static void
append_part (GString *text, const char *part)
{
  if (part == NULL || *part == '\0')
    return;
  g_string_append (text, text->len == 0 ? "" : ", ");
  g_string_append (text, part);
}

void
tpt_log_add_visit (GListStore *log, TptRecord *visit, GPtrArray *readings)
{
  g_autoptr (GString) parts = g_string_new (NULL);
  g_autofree char *text = NULL;
  const char *found = tpt_record_get_text (visit, "found");
  gint64 frames = tpt_record_get_integer (visit, "frames_on_card", -1);

  if (found != NULL && g_strcmp0 (found, "working") != 0)
    append_part (parts, tpt_choice_label (found));
  if (frames >= 0)
    {
      g_autofree char *number = tpt_words_number ((double) frames);
      g_autofree char *part = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s frame", "%s frames", (gulong) frames), number);
      append_part (parts, part);
    }
  append_part (parts, tpt_record_get_text (visit, "left"));
  append_part (parts, tpt_record_get_text (visit, "notes"));
  text = parts->len > 0 ? g_strdup_printf (_("Visit: %s"), parts->str) : g_strdup (_("Visit"));
  tpt_log_add (log, tpt_record_get_instant (visit, "at"), NULL, text);
}

static void
append_measures (GString *parts, TptRecord *reading)
{
  if (tpt_record_is_set (reading, "percent"))
    {
      g_autofree char *part = g_strdup_printf (_("%.0f %% left"), tpt_record_get_real (reading, "percent"));
      append_part (parts, part);
    }
  if (tpt_record_is_set (reading, "volts"))
    {
      g_autofree char *part = g_strdup_printf (_("%.2f V"), tpt_record_get_real (reading, "volts"));
      append_part (parts, part);
    }
}

static char *
word_action (const char *action, const char *replacement)
{
  if (replacement != NULL)
    return g_strdup_printf (_("swapped for %s"), replacement);
  return tpt_choice_inline (action);
}

char *
tpt_log_word_reading (TptRecord *reading, const char *replacement)
{
  g_autoptr (GString) parts = g_string_new (NULL);
  const char *action = tpt_record_get_text (reading, "action");

  if (g_strcmp0 (tpt_record_get_text (reading, "state"), "dead") == 0)
    append_part (parts, _("dead"));
  append_measures (parts, reading);
  if (action != NULL && g_strcmp0 (action, "none") != 0)
    {
      g_autofree char *done = word_action (action, replacement);
      append_part (parts, done);
    }
  append_part (parts, tpt_record_get_text (reading, "notes"));
  return parts->len > 0 ? g_string_free (g_steal_pointer (&parts), FALSE) : NULL;
}

void
tpt_log_add_reading (GListStore *log, TptRecord *reading, TptRecord *visit, const char *name, const char *replacement)
{
  g_autofree char *words = tpt_log_word_reading (reading, replacement);
  g_autofree char *text = words != NULL ? g_strdup_printf ("%s: %s", name, words) : NULL;

  if (text != NULL)
    tpt_log_add (log, tpt_record_get_instant (visit, "at"), tpt_record_get_text (reading, "unit"), text);
}
