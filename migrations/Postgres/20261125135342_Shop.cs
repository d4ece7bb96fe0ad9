using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace Handwheel.Migrations.Postgres
{
    /// <inheritdoc />
    public partial class Shop : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "DataProtectionKeys",
                columns: table => new
                {
                    Id = table
                        .Column<int>(type: "integer", nullable: false)
                        .Annotation(
                            "Npgsql:ValueGenerationStrategy",
                            NpgsqlValueGenerationStrategy.IdentityByDefaultColumn
                        ),
                    FriendlyName = table.Column<string>(type: "text", nullable: true),
                    Xml = table.Column<string>(type: "text", nullable: true),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_DataProtectionKeys", x => x.Id);
                }
            );

            migrationBuilder.CreateTable(
                name: "FailedSignIns",
                columns: table => new
                {
                    Number = table
                        .Column<long>(type: "bigint", nullable: false)
                        .Annotation(
                            "Npgsql:ValueGenerationStrategy",
                            NpgsqlValueGenerationStrategy.IdentityByDefaultColumn
                        ),
                    At = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    Where = table.Column<string>(type: "text", nullable: false),
                    PersonId = table.Column<Guid>(type: "uuid", nullable: true),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_FailedSignIns", x => x.Number);
                }
            );

            migrationBuilder.CreateTable(
                name: "Files",
                columns: table => new
                {
                    Sha256 = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Content = table.Column<byte[]>(type: "bytea", nullable: false),
                    Bytes = table.Column<long>(type: "bigint", nullable: false),
                    KeptAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Files", x => x.Sha256);
                }
            );

            migrationBuilder.CreateTable(
                name: "IdempotencyKeys",
                columns: table => new
                {
                    Key = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    PersonId = table.Column<Guid>(type: "uuid", nullable: false),
                    RequestDigest = table.Column<string>(type: "text", nullable: false),
                    Answer = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_IdempotencyKeys", x => x.Key);
                }
            );

            migrationBuilder.CreateTable(
                name: "Machines",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    Facts = table.Column<string>(type: "text", nullable: false),
                    Note = table.Column<string>(type: "text", nullable: false),
                    Retired = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Machines", x => x.Id);
                }
            );

            migrationBuilder.CreateTable(
                name: "People",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    Roles = table.Column<int>(type: "integer", nullable: false),
                    PinHash = table.Column<string>(type: "text", nullable: false),
                    PasswordHash = table.Column<string>(type: "text", nullable: true),
                    PinToBeChanged = table.Column<bool>(type: "boolean", nullable: false),
                    FailedPins = table.Column<int>(type: "integer", nullable: false),
                    FailedPasswords = table.Column<int>(type: "integer", nullable: false),
                    Stamp = table.Column<Guid>(type: "uuid", nullable: false),
                    Disabled = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_People", x => x.Id);
                }
            );

            migrationBuilder.CreateTable(
                name: "Settings",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    ShopName = table.Column<string>(type: "text", nullable: false),
                    Zone = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    Paper = table.Column<string>(type: "character varying(10)", maxLength: 10, nullable: false),
                    FirstCodeHash = table.Column<string>(type: "text", nullable: true),
                    FirstCodeFailures = table.Column<int>(type: "integer", nullable: false),
                    IsDemo = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Settings", x => x.Id);
                }
            );

            migrationBuilder.CreateTable(
                name: "Tablets",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Name = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    SecretHash = table.Column<string>(type: "text", nullable: false),
                    NamedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    NamedBy = table.Column<Guid>(type: "uuid", nullable: false),
                    PasswordUsedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    Revoked = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Tablets", x => x.Id);
                }
            );

            migrationBuilder.CreateTable(
                name: "Jobs",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    Number = table.Column<int>(type: "integer", nullable: false),
                    MachineId = table.Column<Guid>(type: "uuid", nullable: false),
                    Part = table.Column<string>(type: "text", nullable: false),
                    Operation = table.Column<string>(type: "text", nullable: false),
                    Revision = table.Column<string>(type: "text", nullable: false),
                    SetupIsDraft = table.Column<bool>(type: "boolean", nullable: false),
                    MadeAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    MadeBy = table.Column<Guid>(type: "uuid", nullable: false),
                    PutAway = table.Column<bool>(type: "boolean", nullable: false),
                    Version = table.Column<long>(type: "bigint", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Jobs", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Jobs_Machines_MachineId",
                        column: x => x.MachineId,
                        principalTable: "Machines",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateTable(
                name: "MachineReadings",
                columns: table => new
                {
                    Number = table
                        .Column<long>(type: "bigint", nullable: false)
                        .Annotation(
                            "Npgsql:ValueGenerationStrategy",
                            NpgsqlValueGenerationStrategy.IdentityByDefaultColumn
                        ),
                    MachineId = table.Column<Guid>(type: "uuid", nullable: false),
                    Register = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    Axis = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    Value = table.Column<long>(type: "bigint", nullable: false),
                    Typed = table.Column<string>(type: "text", nullable: false),
                    Units = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    PersonId = table.Column<Guid>(type: "uuid", nullable: false),
                    PersonName = table.Column<string>(type: "text", nullable: false),
                    PersonRoles = table.Column<int>(type: "integer", nullable: false),
                    At = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    ProveOutId = table.Column<Guid>(type: "uuid", nullable: true),
                    EntryNumber = table.Column<long>(type: "bigint", nullable: true),
                    Baseline = table.Column<long>(type: "bigint", nullable: true),
                    Asked = table.Column<long>(type: "bigint", nullable: true),
                    Statement = table.Column<bool>(type: "boolean", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_MachineReadings", x => x.Number);
                    table.ForeignKey(
                        name: "FK_MachineReadings_Machines_MachineId",
                        column: x => x.MachineId,
                        principalTable: "Machines",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateTable(
                name: "JobFiles",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    JobId = table.Column<Guid>(type: "uuid", nullable: false),
                    Kind = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    Name = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    Sha256 = table.Column<string>(type: "character varying(64)", nullable: false),
                    AddedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    AddedBy = table.Column<Guid>(type: "uuid", nullable: false),
                    ReplacedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_JobFiles", x => x.Id);
                    table.ForeignKey(
                        name: "FK_JobFiles_Files_Sha256",
                        column: x => x.Sha256,
                        principalTable: "Files",
                        principalColumn: "Sha256",
                        onDelete: ReferentialAction.Restrict
                    );
                    table.ForeignKey(
                        name: "FK_JobFiles_Jobs_JobId",
                        column: x => x.JobId,
                        principalTable: "Jobs",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateTable(
                name: "ProveOuts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    JobId = table.Column<Guid>(type: "uuid", nullable: false),
                    MachineId = table.Column<Guid>(type: "uuid", nullable: false),
                    PlanSha256 = table.Column<string>(type: "character varying(64)", nullable: false),
                    StartedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    StartedBy = table.Column<Guid>(type: "uuid", nullable: false),
                    Zone = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    LastNumber = table.Column<long>(type: "bigint", nullable: false),
                    LastHash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    End = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    EndedAt = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<long>(type: "bigint", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ProveOuts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_ProveOuts_Files_PlanSha256",
                        column: x => x.PlanSha256,
                        principalTable: "Files",
                        principalColumn: "Sha256",
                        onDelete: ReferentialAction.Restrict
                    );
                    table.ForeignKey(
                        name: "FK_ProveOuts_Jobs_JobId",
                        column: x => x.JobId,
                        principalTable: "Jobs",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                    table.ForeignKey(
                        name: "FK_ProveOuts_Machines_MachineId",
                        column: x => x.MachineId,
                        principalTable: "Machines",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateTable(
                name: "ProveOutEntries",
                columns: table => new
                {
                    ProveOutId = table.Column<Guid>(type: "uuid", nullable: false),
                    Number = table.Column<long>(type: "bigint", nullable: false),
                    At = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    PersonId = table.Column<Guid>(type: "uuid", nullable: false),
                    Body = table.Column<string>(type: "text", nullable: false),
                    PreviousHash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    Hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ProveOutEntries", x => new { x.ProveOutId, x.Number });
                    table.ForeignKey(
                        name: "FK_ProveOutEntries_ProveOuts_ProveOutId",
                        column: x => x.ProveOutId,
                        principalTable: "ProveOuts",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateIndex(name: "IX_FailedSignIns_At", table: "FailedSignIns", column: "At");

            migrationBuilder.CreateIndex(name: "IX_IdempotencyKeys_At", table: "IdempotencyKeys", column: "At");

            migrationBuilder.CreateIndex(name: "IX_JobFiles_JobId", table: "JobFiles", column: "JobId");

            migrationBuilder.CreateIndex(name: "IX_JobFiles_Sha256", table: "JobFiles", column: "Sha256");

            migrationBuilder.CreateIndex(name: "IX_Jobs_MachineId", table: "Jobs", column: "MachineId");

            migrationBuilder.CreateIndex(name: "IX_Jobs_Number", table: "Jobs", column: "Number", unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_MachineReadings_MachineId_Number",
                table: "MachineReadings",
                columns: new[] { "MachineId", "Number" }
            );

            migrationBuilder.CreateIndex(name: "IX_Machines_Name", table: "Machines", column: "Name", unique: true);

            migrationBuilder.CreateIndex(name: "IX_People_Name", table: "People", column: "Name", unique: true);

            migrationBuilder.CreateIndex(name: "IX_ProveOuts_JobId", table: "ProveOuts", column: "JobId");

            migrationBuilder.CreateIndex(
                name: "IX_ProveOuts_MachineId_End",
                table: "ProveOuts",
                columns: new[] { "MachineId", "End" }
            );

            migrationBuilder.CreateIndex(name: "IX_ProveOuts_PlanSha256", table: "ProveOuts", column: "PlanSha256");

            migrationBuilder.CreateIndex(name: "IX_Tablets_Name", table: "Tablets", column: "Name", unique: true);
            migrationBuilder.OnlyAppend("ProveOutEntries");
            migrationBuilder.OnlyAppend("MachineReadings");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(name: "DataProtectionKeys");

            migrationBuilder.DropTable(name: "FailedSignIns");

            migrationBuilder.DropTable(name: "IdempotencyKeys");

            migrationBuilder.DropTable(name: "JobFiles");

            migrationBuilder.DropTable(name: "MachineReadings");

            migrationBuilder.DropTable(name: "People");

            migrationBuilder.DropTable(name: "ProveOutEntries");

            migrationBuilder.DropTable(name: "Settings");

            migrationBuilder.DropTable(name: "Tablets");

            migrationBuilder.DropTable(name: "ProveOuts");

            migrationBuilder.DropTable(name: "Files");

            migrationBuilder.DropTable(name: "Jobs");

            migrationBuilder.DropTable(name: "Machines");
        }
    }
}
