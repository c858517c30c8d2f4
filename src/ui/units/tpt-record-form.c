#include "config.h"

#include "tpt-record-form.h"

#include <glib/gi18n-lib.h>
#include <string.h>

struct _TptRecordForm {
  GtkWidget parent_instance;

  TptTableId table;
  GHashTable *fields; /* (owned) (element-type utf8 TptField) */
  GPtrArray *titles;  /* (element-type GtkWidget): headings, each before its grid */
  TptRecord *loaded;  /* (owned) (nullable) */
  TptZone *zone;      /* (owned) (nullable) */
  gboolean code_typed;
  glong latitude_length; /* letters in the latitude before the last change */
};

G_DEFINE_FINAL_TYPE (TptRecordForm, tpt_record_form, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* A section and its columns, separated by blanks. */
typedef struct {
  TptTableId table;
  const char *title;
  const char *columns;
} Section;

static const Section sections[] = {
  { TPT_TABLE_STATIONS, N_("Station"), "name station" },
  { TPT_TABLE_STATIONS, N_("Position"), "latitude longitude uncertainty_m elevation_m" },
  { TPT_TABLE_STATIONS, N_("Place"), "feature habitat sensitivity access notes" },
  { TPT_TABLE_UNITS, N_("Unit"), "kind unit label housing make model serial acquired" },
  { TPT_TABLE_UNITS, N_("Sensor"), "sensor" },
  { TPT_TABLE_UNITS, N_("Card"), "capacity_gb" },
  { TPT_TABLE_UNITS, N_("Energy"), "chemistry cell_size cell_mah cells_series cells_parallel sleep_ma awake_ma awake_s frame_mas" },
  { TPT_TABLE_UNITS, N_("Flash"), "flash_ws power_fraction" },
  { TPT_TABLE_UNITS, N_("Further"), "retired retire_cause notes" },
  { TPT_TABLE_VISITS, N_("Visit"), "at people found frames_on_card" },
  { TPT_TABLE_VISITS, N_("Camera’s clock against the true time"), "camera_clock true_clock" },
  { TPT_TABLE_VISITS, N_("Notes"), "left notes" },
  { TPT_TABLE_UNIT_LOG, N_("Entry"), "what at by cause notes" },
  { TPT_TABLE_STOCK, N_("What it is"), "what label cell_size chemistry cell_mah capacity_gb" },
  { TPT_TABLE_STOCK, N_("On the shelf"), "pieces place notes" },
  { TPT_TABLE_SPECIES, N_("Species"), "scientific_name rank sensitivity" },
};

/* The column that decides which others a row has. */
static const struct {
  TptTableId table;
  const char *column;
} deciders[] = {
  { TPT_TABLE_UNITS, "kind" },
  { TPT_TABLE_UNIT_LOG, "what" },
  { TPT_TABLE_STOCK, "what" },
};

/* What the deciding column has to say for a column to be there; a column not
 * named is for all. */
static const struct {
  TptTableId table;
  const char *column;
  const char *words;
} fits[] = {
  { TPT_TABLE_UNITS, "sensor", "camera trigger" },
  { TPT_TABLE_UNITS, "capacity_gb", "card" },
  { TPT_TABLE_UNITS, "chemistry", "camera trigger flash pack other" },
  { TPT_TABLE_UNITS, "cell_size", "camera trigger flash pack other" },
  { TPT_TABLE_UNITS, "cell_mah", "camera trigger flash pack other" },
  { TPT_TABLE_UNITS, "cells_series", "camera trigger flash pack other" },
  { TPT_TABLE_UNITS, "cells_parallel", "camera trigger flash pack other" },
  { TPT_TABLE_UNITS, "sleep_ma", "camera trigger flash pack other" },
  { TPT_TABLE_UNITS, "awake_ma", "camera trigger other" },
  { TPT_TABLE_UNITS, "awake_s", "camera trigger other" },
  { TPT_TABLE_UNITS, "frame_mas", "camera" },
  { TPT_TABLE_UNITS, "flash_ws", "flash camera" },
  { TPT_TABLE_UNITS, "power_fraction", "flash camera" },
  { TPT_TABLE_UNIT_LOG, "cause", "damage failure loss" },
  { TPT_TABLE_STOCK, "cell_size", "cells" },
  { TPT_TABLE_STOCK, "chemistry", "cells" },
  { TPT_TABLE_STOCK, "cell_mah", "cells" },
  { TPT_TABLE_STOCK, "capacity_gb", "card" },
};

static gboolean
holds_word (const char *words, const char *word)
{
  g_auto (GStrv) all = g_strsplit (words, " ", -1);

  return g_strv_contains ((const char *const *) all, word);
}

static gboolean
fits_word (TptTableId table, const char *column, const char *word)
{
  for (gsize i = 0; i < G_N_ELEMENTS (fits); i++)
    if (fits[i].table == table && g_str_equal (fits[i].column, column))
      return *word != '\0' && holds_word (fits[i].words, word);
  return TRUE;
}

/* (transfer full) (nullable): %NULL where every row has every column. */
static char *
get_deciding_word (TptRecordForm *self)
{
  for (gsize i = 0; i < G_N_ELEMENTS (deciders); i++)
    if (deciders[i].table == self->table)
      return tpt_field_get_text (tpt_record_form_get_field (self, deciders[i].column));
  return NULL;
}

static void
show_fitting (TptRecordForm *self)
{
  g_autofree char *word = get_deciding_word (self);
  guint title = 0;

  if (word == NULL)
    return;
  for (gsize s = 0; s < G_N_ELEMENTS (sections); s++)
    {
      g_auto (GStrv) columns = NULL;
      gboolean any = FALSE;

      if (sections[s].table != self->table)
        continue;
      columns = g_strsplit (sections[s].columns, " ", -1);
      for (guint i = 0; columns[i] != NULL; i++)
        {
          gboolean shown = fits_word (self->table, columns[i], word);

          gtk_widget_set_visible (GTK_WIDGET (tpt_record_form_get_field (self, columns[i])), shown);
          any |= shown;
        }
      gtk_widget_set_visible (self->titles->pdata[title], any);
      gtk_widget_set_visible (gtk_widget_get_next_sibling (self->titles->pdata[title]), any);
      title++;
    }
}

/* A pair is two numbers with a blank or a semicolon between them, or a comma
 * between two that have their own decimal points: "2,41" is no pair. */
static gboolean
parse_pair (const char *text, char **latitude, char **longitude)
{
  static const char pattern[] = "^\\s*([-+]?[0-9]+(?:\\.[0-9]*)?)(?:\\s*[,;]\\s+|\\s*;\\s*|\\s+)([-+]?[0-9]+(?:\\.[0-9]*)?)\\s*$"
                                "|^\\s*([-+]?[0-9]+\\.[0-9]+),([-+]?[0-9]+\\.[0-9]+)\\s*$";
  g_autoptr (GRegex) regex = g_regex_new (pattern, 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  int first;

  if (!g_regex_match (regex, text, 0, &match))
    return FALSE;
  first = g_match_info_get_match_count (match) > 3 ? 3 : 1;
  *latitude = g_match_info_fetch (match, first);
  *longitude = g_match_info_fetch (match, first + 1);
  return TRUE;
}

/* "2.4128, 113.0243" in the latitude is both, in that order. */
static void
split_position (TptRecordForm *self)
{
  TptField *field = tpt_record_form_get_field (self, "latitude");
  g_autofree char *text = tpt_field_get_text (field), *latitude = NULL, *longitude = NULL;

  if (!parse_pair (text, &latitude, &longitude))
    return;
  tpt_field_set_text (tpt_record_form_get_field (self, "longitude"), longitude);
  tpt_field_set_text (field, latitude);
}

/* Pasted text is split at once. What is typed letter by letter is whole only
 * when the field is left: see leave_latitude_cb(). */
static void
watch_latitude (TptRecordForm *self, TptField *field)
{
  g_autofree char *text = tpt_field_get_text (field);
  glong before = self->latitude_length;

  self->latitude_length = g_utf8_strlen (text, -1);
  if (self->latitude_length > before + 1)
    split_position (self);
}

static void
leave_latitude_cb (TptRecordForm *self)
{
  split_position (self);
}

/* The first letters of the name, until somebody types a code. */
static void
suggest_code (TptRecordForm *self, TptField *changed)
{
  TptField *code = tpt_record_form_get_field (self, "station"), *name = tpt_record_form_get_field (self, "name");
  g_autofree char *text = NULL, *plain = NULL;
  g_autoptr (GString) stem = NULL;

  if (self->table != TPT_TABLE_STATIONS || self->loaded != NULL || changed != name || self->code_typed)
    return;
  text = tpt_field_get_text (name);
  stem = g_string_new (NULL);
  plain = g_str_to_ascii (text, NULL);
  for (const char *p = plain; *p != '\0' && stem->len < 6; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_c (stem, g_ascii_toupper (*p));
  tpt_field_set_text (code, stem->str);
  self->code_typed = FALSE;
}

static void
field_changed_cb (TptField *field, TptRecordForm *self)
{
  if (g_str_equal (tpt_field_get_column (field)->name, "station"))
    self->code_typed = TRUE;
  if (g_str_equal (tpt_field_get_column (field)->name, "latitude"))
    watch_latitude (self, field);
  suggest_code (self, field);
  show_fitting (self);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
add_field (TptRecordForm *self, GtkWidget *grid, const char *name, int place)
{
  const TptTable *table = tpt_table_get (self->table);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, name)], self->zone);

  gtk_widget_set_valign (GTK_WIDGET (field), GTK_ALIGN_START);
  gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (field), place % 2, place / 2, 1, 1);
  g_hash_table_insert (self->fields, g_strdup (name), field);
  g_signal_connect (field, "changed", G_CALLBACK (field_changed_cb), self);
  if (g_str_equal (name, "latitude"))
    {
      GtkEventController *focus = gtk_event_controller_focus_new ();

      g_signal_connect_swapped (focus, "leave", G_CALLBACK (leave_latitude_cb), self);
      gtk_widget_add_controller (GTK_WIDGET (field), focus);
    }
}

static void
add_section (TptRecordForm *self, const Section *section)
{
  g_auto (GStrv) columns = g_strsplit (section->columns, " ", -1);
  GtkWidget *title = gtk_label_new (_(section->title)), *grid = gtk_grid_new ();

  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "heading");
  gtk_widget_set_parent (title, GTK_WIDGET (self));
  g_ptr_array_add (self->titles, title);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 18);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  gtk_widget_set_parent (grid, GTK_WIDGET (self));
  for (int i = 0; columns[i] != NULL; i++)
    add_field (self, grid, columns[i], i);
}

static void
tpt_record_form_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_clear_object (&TPT_RECORD_FORM (object)->loaded);

  G_OBJECT_CLASS (tpt_record_form_parent_class)->dispose (object);
}

static void
tpt_record_form_finalize (GObject *object)
{
  g_hash_table_unref (TPT_RECORD_FORM (object)->fields);
  g_ptr_array_unref (TPT_RECORD_FORM (object)->titles);
  g_clear_pointer (&TPT_RECORD_FORM (object)->zone, tpt_zone_unref);

  G_OBJECT_CLASS (tpt_record_form_parent_class)->finalize (object);
}

static void
tpt_record_form_class_init (TptRecordFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_record_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_record_form_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_record_form_init (TptRecordForm *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 12);
  self->fields = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->titles = g_ptr_array_new ();
}

TptRecordForm *
tpt_record_form_new (TptTableId table, TptZone *zone)
{
  TptRecordForm *self = g_object_new (TPT_TYPE_RECORD_FORM, NULL);

  self->table = table;
  self->zone = zone != NULL ? tpt_zone_ref (zone) : NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (sections); i++)
    if (sections[i].table == table)
      add_section (self, &sections[i]);
  show_fitting (self);
  return self;
}

TptField *
tpt_record_form_get_field (TptRecordForm *self, const char *column)
{
  return g_hash_table_lookup (self->fields, column);
}

void
tpt_record_form_load (TptRecordForm *self, TptRecord *record)
{
  GHashTableIter iter;
  gpointer column, field;

  g_set_object (&self->loaded, record);
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &column, &field))
    if (tpt_field_get_column (field)->type == TPT_COLUMN_INSTANT && tpt_record_is_set (record, column))
      tpt_field_set_instant (field, tpt_record_get_instant (record, column));
    else
      {
        g_autofree char *text = tpt_record_to_string (record, column, NULL);
        tpt_field_set_text (field, text);
      }
}

/* What does not show for the unit's kind is left as it was; an entry of a log
 * or a thing in stock that became another kind lets go of it. */
gboolean
tpt_record_form_apply (TptRecordForm *self, TptRecord *record)
{
  GHashTableIter iter;
  gpointer column, field;

  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &column, &field))
    {
      if (!gtk_widget_get_visible (field) && self->table != TPT_TABLE_UNITS)
        tpt_record_set_from_string (record, column, NULL, NULL, NULL);
      else if (gtk_widget_get_visible (field) && !tpt_field_apply (field, record))
        return FALSE;
    }
  return TRUE;
}

/* A code that no field asks for is made when the row is saved. */
static void
stand_in_for_code (TptRecordForm *self, TptRecord *scratch)
{
  const char *code = tpt_table_get (self->table)->columns[0].name;

  if (tpt_record_form_get_field (self, code) == NULL && tpt_record_get_code (scratch) == NULL)
    tpt_record_set_text (scratch, code, "-");
}

gboolean
tpt_record_form_is_valid (TptRecordForm *self)
{
  g_autofree char *reason = NULL;

  return tpt_record_form_check (self, &reason);
}

gboolean
tpt_record_form_check (TptRecordForm *self, char **reason)
{
  g_autoptr (TptRecord) scratch = self->loaded != NULL ? tpt_record_copy (self->loaded) : tpt_record_new (self->table);
  g_autoptr (GError) error = NULL;
  GHashTableIter iter;
  const char *column = NULL;
  gpointer field;

  *reason = NULL;
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, NULL, &field))
    if (gtk_widget_get_visible (field) && tpt_field_get_error (field) != NULL)
      return FALSE;
  if (!tpt_record_form_apply (self, scratch))
    return FALSE;
  stand_in_for_code (self, scratch);
  if (tpt_record_check (scratch, &column, &error))
    return TRUE;
  *reason = g_strdup (error->message);
  return FALSE;
}
